//! The PDF file: PDF/A-2b, with the day of making from the job, so that the same job gives the same bytes.

use krilla::configure::{Archival, ConfigurationBuilder};
use krilla::metadata::{DateTime, Metadata};
use krilla::page::PageSettings;
use krilla::{Document, SerializeSettings};

use crate::print::canvas::Canvas;
use crate::print::job::{Created, PrintError};
use crate::print::sheet::POINTS_PER_MM;

/// A file being made.
pub(crate) struct Pdf {
    document: Document,
    pages: usize,
}

impl Pdf {
    /// Begins a file.
    ///
    /// # Errors
    ///
    /// [`PrintError::File`] when the library refuses the archive format.
    pub(crate) fn new(title: &str, language: &str, created: Created) -> Result<Self, PrintError> {
        // The archive format turns a letter without a glyph into an error; the plain one prints an empty box.
        let configuration = ConfigurationBuilder::new()
            .with_archival_validator(Archival::A2_B)
            .finish()
            .map_err(|fault| PrintError::File(format!("{fault:?}")))?;
        let mut document = Document::new_with(SerializeSettings { configuration, ..Default::default() });
        let (year, month, day) = created;
        let language = if language.is_empty() { "en" } else { language };
        let title = if title.trim().is_empty() { "Lidnote" } else { title };
        document.set_metadata(
            Metadata::new()
                .title(title.to_owned())
                .language(language.to_owned())
                .creator("Lidnote".to_owned())
                .creation_date(DateTime::new(year.clamp(0, 9999) as u16).month(month).day(day)),
        );
        Ok(Self { document, pages: 0 })
    }

    /// Draws one page of this size in mm.
    ///
    /// # Errors
    ///
    /// [`PrintError::File`] when the size is no page.
    pub(crate) fn page(&mut self, size: (f32, f32), draw: impl FnOnce(&mut Canvas<'_>)) -> Result<(), PrintError> {
        let settings = PageSettings::from_wh(size.0 * POINTS_PER_MM, size.1 * POINTS_PER_MM)
            .ok_or_else(|| PrintError::File(format!("a page of {} x {} mm", size.0, size.1)))?;
        let mut page = self.document.start_page_with(settings);
        let mut canvas = Canvas::new(page.surface());
        draw(&mut canvas);
        canvas.finish();
        page.finish();
        self.pages += 1;
        Ok(())
    }

    /// The bytes and the number of pages.
    ///
    /// # Errors
    ///
    /// [`PrintError::File`] when the library refuses, such as for a letter without a glyph.
    pub(crate) fn finish(self) -> Result<(Vec<u8>, usize), PrintError> {
        let bytes = self.document.finish().map_err(|fault| PrintError::File(format!("{fault:?}")))?;
        Ok((bytes, self.pages))
    }
}
