//! Online tiles, off until the user switches them on: the service then learns where one looks.

use std::sync::Once;

use std::time::Duration;

use egui::{Context, Ui};
use walkers::sources::{Attribution, TileSource};
use walkers::{HeaderValue, HttpOptions, HttpTiles, Stats, TileId, TilePiece, Tiles};

/// What tile services are told about who asks.
pub const USER_AGENT: &str = "lidnote/0.1";

/// Why an address cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum AddressError {
    /// Not a web address.
    #[error("The address does not begin with https:// or http://. Enter it as the tile service gives it.")]
    NotWeb,
    /// The places for the tile's numbers are missing.
    #[error("The address has no {{z}}, {{x}} and {{y}} in it. Enter it as the tile service gives it.")]
    NoNumbers,
}

/// Seconds within which a first tile that is under way at all has begun to be fetched; common practice, no source.
const BEGUN: f64 = 3.0;
/// Seconds after which a service that has sent nothing yet is said to be silent; common practice, no source.
const PATIENCE: f64 = 15.0;
/// What the map then says.
const SILENT: &str = "No tile has come from the internet.";

/// Online tiles and the credit their service asks for.
pub struct Online {
    pub(super) tiles: Watched,
    credit: String,
    /// When the first tile was asked for, in seconds of the window's own time.
    asked_at: Option<f64>,
    silent: bool,
}

/// The service's tiles, and whether any was asked for and any has come.
pub(super) struct Watched {
    tiles: HttpTiles,
    asked: bool,
    came: bool,
}

impl Tiles for Watched {
    fn at(&mut self, tile: TileId) -> Option<TilePiece> {
        let piece = self.tiles.at(tile);
        self.asked = true;
        self.came |= piece.is_some();
        piece
    }

    fn attribution(&self) -> Attribution {
        self.tiles.attribution()
    }

    fn tile_size(&self) -> u32 {
        self.tiles.tile_size()
    }

    fn stats(&self) -> Stats {
        self.tiles.stats()
    }
}

impl Online {
    /// Begins to use a tile service. `address` holds `{z}`, `{x}` and `{y}`; `credit` is shown on the map; `options` may set a
    /// cache folder, the user agent is set here. Nothing is asked for before the map is shown.
    ///
    /// # Errors
    /// Where the address cannot be one of a tile service.
    pub fn start(
        address: &str,
        credit: impl Into<String>,
        options: HttpOptions,
        ctx: &Context,
    ) -> Result<Self, AddressError> {
        let address = check(address)?;
        static PROVIDER: Once = Once::new();
        // An error means that somebody else has installed one, which serves as well.
        PROVIDER.call_once(|| drop(rustls::crypto::ring::default_provider().install_default()));
        let options = HttpOptions { user_agent: Some(HeaderValue::from_static(USER_AGENT)), ..options };
        let tiles = HttpTiles::with_options(Service { address }, options, ctx.clone());
        let tiles = Watched { tiles, asked: false, came: false };
        Ok(Self { tiles, credit: credit.into(), asked_at: None, silent: false })
    }

    /// A tile has come, so that the service's own map covers what lies below.
    pub(super) fn covers(&self) -> bool {
        self.tiles.came
    }

    /// Finds out whether the service is silent: nothing is under way and nothing has come. Called after the map is drawn;
    /// asks for frames only until that is known.
    pub(super) fn watch(&mut self, ui: &Ui) {
        if self.tiles.came || !self.tiles.asked {
            self.silent = false;
            return;
        }
        let now = ui.input(|input| input.time);
        let waited = now - *self.asked_at.get_or_insert(now);
        self.silent = is_silent(waited, self.tiles.stats().in_progress);
        if !self.silent {
            ui.request_repaint_after(Duration::from_secs(1));
        }
    }

    /// What the map says of the service besides its credit.
    pub(super) fn trouble(&self) -> Option<&'static str> {
        self.silent.then_some(SILENT)
    }

    /// The credit the service asks for.
    pub fn credit(&self) -> &str {
        &self.credit
    }
}

/// After so many seconds without a tile, of which so many are under way.
fn is_silent(waited: f64, under_way: usize) -> bool {
    waited > PATIENCE || waited > BEGUN && under_way == 0
}

fn check(address: &str) -> Result<String, AddressError> {
    let address = address.trim();
    if !address.starts_with("https://") && !address.starts_with("http://") {
        return Err(AddressError::NotWeb);
    }
    if !["{z}", "{x}", "{y}"].iter().all(|part| address.contains(part)) {
        return Err(AddressError::NoNumbers);
    }
    Ok(address.to_owned())
}

struct Service {
    address: String,
}

impl TileSource for Service {
    fn tile_url(&self, tile: TileId) -> String {
        let number = |text: String, part: &str, number: u32| text.replace(part, &number.to_string());
        let address = number(self.address.clone(), "{z}", u32::from(tile.zoom));
        number(number(address, "{x}", tile.x), "{y}", tile.y)
    }

    /// The credit is shown by the map itself, which can hold text that the user typed.
    fn attribution(&self) -> Attribution {
        Attribution { text: "", url: "", logo_light: None, logo_dark: None }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_are_checked() {
        assert_eq!(
            check(" https://tiles.invalid/{z}/{x}/{y}.png ").as_deref(),
            Ok("https://tiles.invalid/{z}/{x}/{y}.png")
        );
        assert_eq!(check("tiles.invalid/{z}/{x}/{y}"), Err(AddressError::NotWeb));
        assert_eq!(check("https://tiles.invalid/{z}/{x}"), Err(AddressError::NoNumbers));
        assert_eq!(
            AddressError::NoNumbers.to_string(),
            "The address has no {z}, {x} and {y} in it. Enter it as the tile service gives it."
        );
    }

    #[test]
    fn a_service_is_silent_once_nothing_is_under_way() {
        assert!(!is_silent(1.0, 0), "the first request may not have begun");
        assert!(!is_silent(5.0, 2));
        assert!(is_silent(5.0, 0));
        assert!(is_silent(20.0, 6), "one that never answers");
    }

    #[test]
    fn numbers_are_filled_in() {
        let service = Service { address: "http://t/{z}/{x}/{y}.png?k={z}".to_owned() };
        assert_eq!(service.tile_url(TileId { x: 3, y: 7, zoom: 4 }), "http://t/4/3/7.png?k=4");
    }

    #[test]
    fn starting_asks_for_nothing_and_does_not_panic() {
        let online =
            Online::start("http://127.0.0.1:9/{z}/{x}/{y}", "© Someone", HttpOptions::default(), &Context::default());
        assert_eq!(online.map(|online| online.credit().to_owned()), Ok("© Someone".to_owned()));
    }
}
