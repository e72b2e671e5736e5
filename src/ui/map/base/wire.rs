//! Reads the variable-length numbers and fields that PMTiles directories and vector tiles are written in.
//!
//! Every call answers `None` where the bytes end or a number is longer than 64 bits: nothing here can panic.

/// A place in the bytes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wire<'a> {
    rest: &'a [u8],
}

/// The content of one protobuf field.
#[derive(Debug, Clone, Copy)]
pub(super) enum Field<'a> {
    /// A number, as it stands.
    Number(u64),
    /// Four bytes, little-endian.
    Four(u32),
    /// Eight bytes, little-endian.
    Eight(u64),
    /// Text, a message, or packed numbers.
    Bytes(&'a [u8]),
}

impl<'a> Wire<'a> {
    pub(super) fn new(bytes: &'a [u8]) -> Self {
        Self { rest: bytes }
    }

    /// Bytes not read yet.
    pub(super) fn left(&self) -> usize {
        self.rest.len()
    }

    /// The next variable-length number.
    pub(super) fn varint(&mut self) -> Option<u64> {
        let mut value = 0u64;
        for shift in (0..64).step_by(7) {
            let (&byte, rest) = self.rest.split_first()?;
            self.rest = rest;
            let part = u64::from(byte & 0x7f);
            if shift == 63 && part > 1 {
                return None;
            }
            value |= part << shift;
            if byte < 0x80 {
                return Some(value);
            }
        }
        None
    }

    /// The next number in zigzag form.
    pub(super) fn signed(&mut self) -> Option<i64> {
        self.varint().map(zigzag)
    }

    fn take(&mut self, count: usize) -> Option<&'a [u8]> {
        let (taken, rest) = self.rest.split_at_checked(count)?;
        self.rest = rest;
        Some(taken)
    }

    /// The next protobuf field and its number; `None` at the end and at anything unreadable.
    pub(super) fn field(&mut self) -> Option<(u64, Field<'a>)> {
        let tag = self.varint()?;
        let content = match tag & 7 {
            0 => Field::Number(self.varint()?),
            1 => Field::Eight(u64::from_le_bytes(self.take(8)?.try_into().ok()?)),
            2 => {
                let count = usize::try_from(self.varint()?).ok()?;
                Field::Bytes(self.take(count)?)
            }
            5 => Field::Four(u32::from_le_bytes(self.take(4)?.try_into().ok()?)),
            _ => return None,
        };
        Some((tag >> 3, content))
    }
}

/// Undoes the zigzag form that keeps small negative numbers short.
pub(super) fn zigzag(value: u64) -> i64 {
    (value >> 1) as i64 ^ -((value & 1) as i64)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// The examples of the protobuf encoding guide: 150 is 96 01; zigzag −2 is 3.
    #[test]
    fn published_examples() {
        assert_eq!(Wire::new(&[0x96, 0x01]).varint(), Some(150));
        assert_eq!([0, 1, 2, 3, 4_294_967_295].map(zigzag), [0, -1, 1, -2, -2_147_483_648]);
        let mut wire = Wire::new(&[0x12, 0x07, 0x74, 0x65, 0x73, 0x74, 0x69, 0x6e, 0x67]);
        assert!(matches!(wire.field(), Some((2, Field::Bytes(b"testing")))));
        assert_eq!(wire.left(), 0);
    }

    #[test]
    fn numbers_too_long_are_refused() {
        assert_eq!(Wire::new(&[0xff; 12]).varint(), None);
        assert_eq!(Wire::new(&[0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x02]).varint(), None);
        assert_eq!(Wire::new(&[0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x01]).varint(), Some(u64::MAX));
    }

    proptest! {
        #[test]
        fn any_bytes_end(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
            let mut wire = Wire::new(&bytes);
            let mut count = 0;
            while wire.field().is_some() {
                count += 1;
            }
            prop_assert!(count <= bytes.len());
        }
    }
}
