//! Where the bytes of a map pack come from.

use std::sync::Arc;

/// Bytes that can be read at any place: a file opened by the program, or bytes in memory.
pub trait Source: Send + Sync {
    /// Length in bytes.
    fn len(&self) -> u64;

    /// Exactly `count` bytes from `offset` on.
    ///
    /// # Errors
    /// Says in words why they cannot be read; also where the source ends before.
    fn read_at(&self, offset: u64, count: usize) -> Result<Vec<u8>, String>;

    /// Whether there are no bytes at all.
    fn is_empty(&self) -> bool {
        self.len() == 0
    }
}

impl Source for &'static [u8] {
    fn len(&self) -> u64 {
        <[u8]>::len(self) as u64
    }

    fn read_at(&self, offset: u64, count: usize) -> Result<Vec<u8>, String> {
        slice(self, offset, count)
    }
}

impl Source for Arc<[u8]> {
    fn len(&self) -> u64 {
        <[u8]>::len(self) as u64
    }

    fn read_at(&self, offset: u64, count: usize) -> Result<Vec<u8>, String> {
        slice(self, offset, count)
    }
}

fn slice(bytes: &[u8], offset: u64, count: usize) -> Result<Vec<u8>, String> {
    usize::try_from(offset)
        .ok()
        .and_then(|from| bytes.get(from..from.checked_add(count)?))
        .map(<[u8]>::to_vec)
        .ok_or_else(|| "the bytes end before".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_inside_and_refuses_beyond() {
        let bytes: Arc<[u8]> = Arc::from([1, 2, 3, 4]);
        assert_eq!(bytes.read_at(1, 2), Ok(vec![2, 3]));
        assert_eq!(bytes.read_at(4, 0), Ok(vec![]));
        assert!(bytes.read_at(3, 2).is_err());
        assert!(bytes.read_at(u64::MAX, usize::MAX).is_err());
        assert_eq!(Source::len(&bytes), 4);
    }
}
