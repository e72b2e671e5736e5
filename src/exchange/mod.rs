//! CSV, GeoJSON, GPX, iCalendar and the whole copy: bytes in, changes and problems out; world in, bytes out. No files.
