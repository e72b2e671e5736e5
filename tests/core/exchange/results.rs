//! An evening's finds from a file.

use lidnote::domain::change::Change;
use lidnote::exchange::results;
use lidnote::exchange::table::headings::Field;
use uuid::Uuid;

use super::{Register, today};

fn evening(register: &Register, text: &str) -> Result<Change, results::Refused> {
    let mut next = 1 << 80;
    let mut mint = || {
        next += 1;
        Uuid::from_u128(next)
    };
    results::read(text.as_bytes(), None, "kw", &register.world, today(), &mut mint)
}

#[test]
fn results_become_one_evening() {
    let mut register =
        Register::with("yard,hive,introduced\nHeath,B14,2026-11-10\nHeath,B15,2026-11-10\nMarl Pit,B14,2026-11-10\n");
    let text = "yard,hive,date,find,words,by\nHeath,b14,22/11/2026,eq,quiet,ab\nHeath,B15,2026-11-22,c2,,\nMarl Pit,B14,22 Nov 2026,x,,\n";
    let change = evening(&register, text).unwrap();
    assert!(register.decide(&change).unwrap() >= 3);
    let colony = register.world.living().find(|colony| colony.name() == "B15").unwrap().id;
    let record = register.world.records_of(colony).last().unwrap();
    assert_eq!((record.by.as_str(), record.together.is_some()), ("kw", true));
}

#[test]
fn one_bad_row_refuses_the_file_and_all_are_listed() {
    let register = Register::with(
        "yard,hive,known since,introduced\nHeath,B14,2026-11-10,2026-11-10\nMarl Pit,B14,2026-11-10,2026-11-10\n",
    );
    let text = "yard,hive,date,find,words,by\nHeath,B14,2026-11-22,eq,,\nHeath,B99,2026-11-22,eq,,\n,B14,2026-11-22,eq,,\n\
                Heth,B14,31/11/2026,eq,,\nHeath,B14,2026-12-24,eq,,\nHeath,B14,2026-11-21,en,,\nHeath,B14,2026-11-22,e,,\nHeath,B14\nHeath,B14,2026-11-01,e,,\nMarl Pit,B14,2026-11-22,e,,Martha Kessler\n";
    let Err(results::Refused::Rows(problems)) = evening(&register, text) else { panic!("not refused") };
    let facts: Vec<(u32, Option<Field>, &str)> =
        problems.iter().map(|(row, problem)| (*row, problem.field, problem.fact.as_str())).collect();
    assert_eq!(
        facts,
        [
            (3, Some(Field::Hive), "No hive of Heath is called B99"),
            (4, Some(Field::Yard), "Several yards have a hive B14"),
            (5, Some(Field::Yard), "No yard is called Heth"),
            (5, Some(Field::LastLook), "31 November does not exist"),
            (6, Some(Field::LastLook), "24 Dec lies ahead"),
            (7, Some(Field::Found), "Nothing seen (n), yet brood, a queen or cells were"),
            (8, Some(Field::Hive), "Hive B14 has a find of that day in row 2"),
            (9, None, "The row has 2 cells, the headings 6"),
            (10, Some(Field::LastLook), "B14 is known only since 10 Nov"),
            (11, Some(Field::By), "Initials have at most 12 signs"),
        ]
    );
    assert!(problems.iter().all(|(_, problem)| !problem.remedy.is_empty()));
}
