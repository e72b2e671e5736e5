//! The demo island's pack, for tests.

/// The bytes of `demo-data/wrackmore.pmtiles`.
pub(crate) const PACK: &[u8] = include_bytes!("../../../../demo-data/wrackmore.pmtiles");
