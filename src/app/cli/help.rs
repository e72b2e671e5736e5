//! The help text.

/// What `lidnote help` prints.
pub const TEXT: &str = "\
Lidnote: queens, due looks and yard runs.

  lidnote                        opens the window on the register last open
  lidnote demo                   opens the window on a fresh copy of the demo
  lidnote import FILE            brings yards and hives in (CSV, GeoJSON, GPX); makes the register if there is none
      --map \"theirs=ours\"        names a heading; may be given several times
      --dates dmy|mdy            how dates such as 3/4/2026 are read
      --existing skip|update     what to do with hives already there
      --hold-back FILE           writes rows with problems there and brings the others in
  lidnote record FILE            records results (CSV: yard, hive, date, find, words, by)
  lidnote due                    due looks and steps (--format csv|ics)
  lidnote run                    the day's run (--format csv|gpx|ics|pdf)
      --base=LAT,LON|YARD        where it begins; without it the home place
      --leave HH:MM              when it leaves
      --yards=A,B,C              exactly these yards instead of those with due work
      --letter                   run sheet on Letter paper
  lidnote labels [HIVE ...]      labels that wait, or of these hives, as PDF
      --text                     as plain text
      --sheet NAME|FILE          a sheet by name, or a file of measures; --start N the first label to use
      --calibration              the page with the ruler; --printed notes the labels as printed
  lidnote card HIVE              one hive (or YARD/HIVE)
  lidnote amend --yard Y --hive H --date DATE --reason TEXT
      --to HIVE, --find CODES, --new-date DATE or --strike, --record N where the day has several
  lidnote move HIVE --to YARD    (--row N --place N)
  lidnote end HIVE --why WHY     (sold, died, shaken-out, destroyed, gone; --words TEXT)
  lidnote parcel                 lists parcels; --source S --kind caged|cells|virgins --count N takes one in
      --dead N --sent DATE --due DATE --arrived DATE --grafted DATE
      --born WHEN --dot COLOUR   its queens: a day, oct 2026, 2026/27 for a season, 2026, two with \"to\" between
      --late N --promised DATE   parcel N of the list is late; --arrive N --arrived DATE it has come
      --amend N                  puts parcel N right by the options given; --new-source makes a source like-named too
  lidnote undo | redo            takes the newest change back, or makes it again
  lidnote set [NAME VALUE]       a number of the rules; NAME alone shows it, set alone lists all
  lidnote export                 --format csv|geojson|register
  lidnote verify                 checks the register through
  lidnote backup                 makes a checked copy (--output FILE)

With every command: --register FILE, --on DATE (2026-11-24: the day that counts as today), --output FILE, --by INITIALS.
Exit status: 0 done, 1 refused or problems, 2 not understood.
";
