//! A map pack: a PMTiles file of version 3 with vector tiles, read tile by tile.
//!
//! The file comes from anywhere, so nothing in it is believed: every length is checked against the file and against a
//! limit before memory is taken, and a damaged tile is an error of that tile alone.

use std::collections::BTreeMap;
use std::io::Read as _;
use std::sync::Arc;

use flate2::read::GzDecoder;

use super::directory::{Entry, HEADER_LEN, Header, Packing, Stretch, directory, find, header, tile_number};
use super::source::Source;

/// Most bytes of one packed directory, metadata or tile. Real ones stay far below (a root directory is at most 16 KB by the
/// specification; tiles rarely pass 1 MB). Common practice, no source.
const PACKED_MAX: u64 = 16 << 20;
/// Most bytes of the same once unpacked; a guard against bombs. Common practice, no source.
const UNPACKED_MAX: u64 = 64 << 20;
/// Leaf directories kept in memory.
const LEAVES_KEPT: usize = 32;
/// Directories below directories; the specification uses two levels and allows more.
const DEPTH_MAX: usize = 4;

/// Why a map pack cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PackError {
    /// Not a PMTiles file of version 3.
    #[error("This is not a PMTiles file of version 3. Export the region as PMTiles version 3.")]
    NotPmtiles,
    /// Shorter than its header says.
    #[error("The map file ends too early: {is} of {needed} bytes. Copy it again.")]
    Short {
        /// Its length in bytes.
        is: u64,
        /// The length its header speaks of.
        needed: u64,
    },
    /// The tiles are pictures or something unknown.
    #[error("The map file holds no vector tiles. Export the region as vector tiles (MVT).")]
    NotVector,
    /// A packing that is not read.
    #[error("The map file is packed in a way Lidnote does not read. Export it with gzip.")]
    Packing,
    /// A part makes no sense.
    #[error("The map file is damaged in its {0}. Copy it again.")]
    Damaged(&'static str),
    /// The bytes could not be read.
    #[error("The map file could not be read: {0}. Copy it to this computer and open it again.")]
    Unread(String),
}

/// An open map pack.
pub struct Archive {
    source: Arc<dyn Source>,
    header: Header,
    root: Vec<Entry>,
    leaves: BTreeMap<u64, Vec<Entry>>,
}

impl Archive {
    /// Opens a pack and checks that it is whole.
    ///
    /// # Errors
    /// [`PackError`] in words fit for the screen.
    pub fn open(source: Arc<dyn Source>) -> Result<Self, PackError> {
        let is = source.len();
        if is < HEADER_LEN as u64 {
            return Err(PackError::NotPmtiles);
        }
        let bytes = source.read_at(0, HEADER_LEN).map_err(PackError::Unread)?;
        let header = header(&bytes).ok_or(PackError::NotPmtiles)?;
        let parts = [header.root, header.metadata, header.leaves, header.tiles];
        let mut needed = 0;
        for part in parts {
            needed = needed.max(part.end().ok_or(PackError::NotPmtiles)?);
        }
        if needed > is {
            return Err(PackError::Short { is, needed });
        }
        if !header.vector {
            return Err(PackError::NotVector);
        }
        let mut archive = Self { source, header, root: Vec::new(), leaves: BTreeMap::new() };
        archive.root = archive.entries(archive.header.root)?;
        Ok(archive)
    }

    /// What the header says.
    pub fn header(&self) -> &Header {
        &self.header
    }

    /// The metadata, a JSON object as text.
    ///
    /// # Errors
    /// Where it cannot be read, unpacked, or is no text.
    pub fn metadata(&self) -> Result<String, PackError> {
        if self.header.metadata.len == 0 {
            return Ok(String::new());
        }
        let bytes = self.bytes(self.header.metadata, self.header.inner, "description")?;
        String::from_utf8(bytes).map_err(|_| PackError::Damaged("description"))
    }

    /// A tile's bytes, unpacked; none where the pack has no such tile.
    ///
    /// # Errors
    /// Where the directories or the tile are damaged or cannot be read.
    pub fn tile(&mut self, zoom: u8, x: u32, y: u32) -> Result<Option<Vec<u8>>, PackError> {
        let Some(number) = tile_number(zoom, x, y) else {
            return Ok(None);
        };
        let mut found = find(&self.root, number);
        for _ in 0..DEPTH_MAX {
            let Some(entry) = found else {
                return Ok(None);
            };
            if entry.run > 0 {
                let stretch = within(self.header.tiles, entry).ok_or(PackError::Damaged("list of tiles"))?;
                return self.bytes(stretch, self.header.packing, "tiles").map(Some);
            }
            found = self.leaf(entry, number)?;
        }
        Err(PackError::Damaged("list of tiles"))
    }

    fn leaf(&mut self, entry: Entry, number: u64) -> Result<Option<Entry>, PackError> {
        if let Some(entries) = self.leaves.get(&entry.offset) {
            return Ok(find(entries, number));
        }
        let stretch = within(self.header.leaves, entry).ok_or(PackError::Damaged("list of tiles"))?;
        let entries = self.entries(stretch)?;
        let found = find(&entries, number);
        if self.leaves.len() >= LEAVES_KEPT {
            self.leaves.clear();
        }
        self.leaves.insert(entry.offset, entries);
        Ok(found)
    }

    fn entries(&self, stretch: Stretch) -> Result<Vec<Entry>, PackError> {
        let bytes = self.bytes(stretch, self.header.inner, "list of tiles")?;
        directory(&bytes).ok_or(PackError::Damaged("list of tiles"))
    }

    fn bytes(&self, stretch: Stretch, packing: Packing, part: &'static str) -> Result<Vec<u8>, PackError> {
        if stretch.len > PACKED_MAX {
            return Err(PackError::Damaged(part));
        }
        let packed = self.source.read_at(stretch.offset, stretch.len as usize).map_err(PackError::Unread)?;
        match packing {
            Packing::Plain => Ok(packed),
            Packing::Gzip => unpack(&packed).ok_or(PackError::Damaged(part)),
            Packing::Other => Err(PackError::Packing),
        }
    }
}

/// Where an entry lies in the file; none where it would leave its part of the file.
fn within(part: Stretch, entry: Entry) -> Option<Stretch> {
    let len = u64::from(entry.len);
    let offset = part.offset.checked_add(entry.offset)?;
    (entry.offset.checked_add(len)? <= part.len).then_some(Stretch { offset, len })
}

fn unpack(packed: &[u8]) -> Option<Vec<u8>> {
    let mut bytes = Vec::new();
    GzDecoder::new(packed).take(UNPACKED_MAX + 1).read_to_end(&mut bytes).ok()?;
    (bytes.len() as u64 <= UNPACKED_MAX).then_some(bytes)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::demo::PACK;
    use super::*;

    fn open(bytes: Vec<u8>) -> Result<Archive, PackError> {
        let shared: Arc<[u8]> = Arc::from(bytes);
        Archive::open(Arc::new(shared))
    }

    fn sweep(archive: &mut Archive) -> usize {
        let mut read = 0;
        for zoom in 0..=12u8 {
            let (x, y) = (3868u32 >> (12 - zoom), 2545u32 >> (12 - zoom));
            for (dx, dy) in [(0, 0), (1, 0), (0, 1), (2, 3)] {
                if let Ok(Some(bytes)) = archive.tile(zoom, x + dx, y + dy) {
                    read += bytes.len();
                }
            }
        }
        read
    }

    #[test]
    fn the_demo_pack_opens_and_has_tiles() {
        let mut archive = open(PACK.to_vec()).expect("opens");
        assert_eq!((archive.header().zoom_min, archive.header().zoom_max), (0, 12));
        assert!(archive.metadata().expect("text").contains("Wrackmore"));
        assert!(sweep(&mut archive) > 1000);
        assert_eq!(archive.tile(12, 0, 0), Ok(None));
        assert_eq!(archive.tile(13, 0, 0), Ok(None));
        assert_eq!(archive.tile(0, 1, 0), Ok(None));
    }

    #[test]
    fn a_short_file_is_noticed_at_once() {
        let whole = PACK.len();
        for len in [whole - 1, whole / 2, 200] {
            let error = open(PACK[..len].to_vec()).err();
            assert!(matches!(error, Some(PackError::Short { is, .. }) if is == len as u64), "{error:?}");
        }
        for len in [0, 7, 126] {
            assert_eq!(open(PACK[..len].to_vec()).err(), Some(PackError::NotPmtiles));
        }
    }

    #[test]
    fn other_kinds_are_refused_in_words() {
        let with = |at: usize, value: u8| {
            let mut bytes = PACK.to_vec();
            bytes[at] = value;
            open(bytes).err()
        };
        assert_eq!(with(0, b'Q'), Some(PackError::NotPmtiles));
        assert_eq!(with(7, 2), Some(PackError::NotPmtiles));
        assert_eq!(with(99, 2), Some(PackError::NotVector));
        assert_eq!(with(97, 4), Some(PackError::Packing));
        assert_eq!(with(101, 27), Some(PackError::NotPmtiles));
    }

    #[test]
    fn lengths_beyond_all_bounds_are_refused() {
        for at in (8..72).step_by(8) {
            let mut bytes = PACK.to_vec();
            bytes[at..at + 8].copy_from_slice(&u64::MAX.to_le_bytes());
            assert!(open(bytes).is_err(), "number at {at}");
        }
    }

    #[test]
    fn a_bomb_is_not_unpacked() {
        let mut packer = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::fast());
        let zeros = vec![0u8; 1 << 20];
        for _ in 0..=64 {
            std::io::Write::write_all(&mut packer, &zeros).expect("packs");
        }
        assert_eq!(unpack(&packer.finish().expect("packs")), None);
    }

    /// The smallest whole file: a header, a packed root directory and one tile.
    fn with_root(root: &[u8], leaves: &[u8], tiles: &[u8]) -> Vec<u8> {
        let mut bytes = PACK[..HEADER_LEN].to_vec();
        bytes[97] = 1;
        bytes[98] = 1;
        let mut at = HEADER_LEN as u64;
        for (field, part) in [(8, root), (24, &[][..]), (40, leaves), (56, tiles)] {
            bytes[field..field + 8].copy_from_slice(&at.to_le_bytes());
            bytes[field + 8..field + 16].copy_from_slice(&(part.len() as u64).to_le_bytes());
            at += part.len() as u64;
        }
        [&bytes[..], root, leaves, tiles].concat()
    }

    #[test]
    fn leaf_directories_are_followed() {
        // The root points to a leaf at 0 of 5 bytes; the leaf says: tile 0, run 1, length 3, offset 1.
        let mut archive = open(with_root(&[1, 0, 0, 5, 1], &[1, 0, 1, 3, 2], b"xabcy")).expect("opens");
        assert_eq!(archive.tile(0, 0, 0), Ok(Some(b"abc".to_vec())));
        assert_eq!(archive.tile(1, 0, 0), Ok(None));
    }

    #[test]
    fn a_leaf_that_points_to_itself_ends() {
        let mut archive = open(with_root(&[1, 0, 0, 5, 1], &[1, 0, 0, 5, 1], b"x")).expect("opens");
        assert_eq!(archive.tile(3, 1, 1), Err(PackError::Damaged("list of tiles")));
    }

    #[test]
    fn a_leaf_beyond_all_numbers_is_refused() {
        // A leaf of 5 bytes at 2^64 - 11: to the offset of the leaves it cannot be added.
        let far = [0xf6, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 1];
        let root = [&[1, 0, 0, 5][..], &far].concat();
        let mut archive = open(with_root(&root, &[1, 0, 1, 3, 2], b"abc")).expect("opens");
        assert_eq!(archive.tile(0, 0, 0), Err(PackError::Damaged("list of tiles")));
    }

    #[test]
    fn a_tile_outside_the_tiles_is_refused() {
        let mut archive = open(with_root(&[1, 0, 1, 9, 1], &[], b"abc")).expect("opens");
        assert_eq!(archive.tile(0, 0, 0), Err(PackError::Damaged("list of tiles")));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn changed_bytes_never_panic(changes in proptest::collection::vec((0..PACK.len(), any::<u8>()), 1..20)) {
            let mut bytes = PACK.to_vec();
            for (at, value) in changes {
                bytes[at] = value;
            }
            if let Ok(mut archive) = open(bytes) {
                sweep(&mut archive);
            }
        }

        #[test]
        fn a_changed_header_never_panics(changes in proptest::collection::vec((8usize..HEADER_LEN, any::<u8>()), 1..6)) {
            let mut bytes = PACK.to_vec();
            for (at, value) in changes {
                bytes[at] = value;
            }
            if let Ok(mut archive) = open(bytes) {
                sweep(&mut archive);
            }
        }
    }
}
