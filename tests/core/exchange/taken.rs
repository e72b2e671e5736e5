//! Rows that say themselves what they are, as an export writes them: how they call each other, and what is wrong in them.

use lidnote::domain::colony::{EndWhy, Founding};
use lidnote::exchange::table::export::programme_csv;
use lidnote::exchange::table::headings::Field;
use lidnote::exchange::table::preview::{Existing, Options, Will};

use super::{Register, problems, row, today};

/// A hive, its split daughter, a plan for a queen of a parcel, and a run.
const FILE: &str = "\
entry,yard,hive,known since,ended,why ended,united into,founding,parent,other hive,last look,found,parcel,parcel kind,\
parcel count,method,give on,run day,leave,latitude,longitude,note
parcel,,,,,,,,,,,,1,cells,12,,,,,,,
yard,Heath,,,,,,,,,,,,,,,,,,,,
hive,Heath,B1,2026-01-01,2026-10-01,united,Heath/B2,,,,,,,,,,,,,,,
hive,Heath,B1,2026-10-05,,,,split,Heath/B1#1,,2026-11-01,e,,,,,,,,,,
hive,Heath,B2,2026-01-01,,,,,,,,,,,,,,,,,,
united,Heath,B2,,,,,,,Heath/B1#1,2026-10-01,,,,,,,,,,,
plan,Heath,B2,2026-11-10,,,,,,,,,1,,,mature cell,2026-11-28,,,,,
run,,,,,,,,,,,,,,,,,2026-11-24,7:30,-40,160,
stop,Heath,,,,,,,,,,,,,,,,,,,,
";

#[test]
fn rows_call_hives_and_parcels_by_their_names() {
    let register = Register::with(FILE);
    let world = &register.world;
    let [first, second, other] = [("B1", false), ("B1", true), ("B2", true)].map(|(name, living)| {
        world.colonies.values().find(|it| it.name() == name && it.is_living() == living).unwrap()
    });
    assert_eq!(first.ended.as_ref().unwrap().why, EndWhy::UnitedInto(other.id));
    assert_eq!(second.how, Founding::SplitFrom(first.id), "#1 is the first of that name, without it the last is meant");
    let plan = world.plans.values().next().unwrap();
    assert_eq!((plan.colony, plan.parcel), (other.id, world.parcels.keys().next().copied()));
    assert_eq!(world.runs.values().next().unwrap().stops[0].yard, other.yard().unwrap());
}

/// The file with one cell replaced: the rows held back, with field and fact.
fn check_problem(from: &str, to: &str, expected: &[(u32, Field, &str)]) {
    let text = FILE.replace(from, to);
    assert_ne!(text, FILE, "{from} is not in the file");
    let preview = Register::new().preview(&text, &Options::default());
    let held: Vec<(u32, Field, &str)> =
        problems(&preview).into_iter().map(|(row, field, fact)| (row, field.unwrap(), fact)).collect();
    assert_eq!(held, expected, "{to}");
    for row in preview.rows.iter().filter(|row| row.will == Will::HoldBack) {
        assert!(row.problems.iter().all(|problem| !problem.remedy.is_empty()));
    }
}

#[test]
fn problems_name_row_field_and_remedy() {
    check_problem(
        ",Heath/B1#1,2026-10-01",
        ",Heath/B7,2026-10-01",
        &[(7, Field::OtherHive, "No hive is called Heath/B7")],
    );
    check_problem(",Heath/B1#1,2026-10-01", ",,2026-10-01", &[(7, Field::OtherHive, "No other hive is named")]);
    check_problem(",1,cells,12,", ",2,cells,12,", &[(8, Field::Parcel, "No parcel 1 stands above")]);
    check_problem(
        ",1,cells,12,",
        ",1,cells,,",
        &[(2, Field::ParcelCount, "The parcel holds nothing"), (8, Field::Parcel, "No parcel 1 stands above")],
    );
    check_problem("stop,Heath", "stop,Kelp", &[(10, Field::Yard, "No yard is called Kelp")]);
    check_problem(
        ",2026-11-24,7:30",
        ",,7:30",
        &[(9, Field::RunDay, "No day is given"), (10, Field::Entry, "The row above is held back")],
    );
    check_problem(",2026-11-28,,", ",,,", &[(8, Field::GiveOn, "No day is given")]);
    check_problem("plan,Heath", "plans,Heath", &[(8, Field::Entry, "No row is a plans")]);
}

#[test]
fn a_hive_that_is_held_back_is_left_out_where_others_name_it() {
    let text = FILE.replace("hive,Heath,B1,2026-01-01,2026-10-01", "hive,Heath,B1,2026-01-01,2027-10-01");
    let mut register = Register::new();
    let preview = register.bring_in(&text, &Options::default());
    assert_eq!(problems(&preview), [(4, Some(Field::Ended), "1 Oct 2027 lies ahead")]);
    assert_eq!(row(&preview, 5).says, "Heath/B1#1 is not brought in, so that the parent is left out");
    let daughter = register.world.living().find(|it| it.name() == "B1").unwrap();
    assert_eq!(daughter.how, Founding::Nuc);
}

#[test]
fn what_an_export_adds_to_a_hive_that_is_there_is_asked_about() {
    let mut register = Register::with("yard,hive,known since\nHeath,B1,2026-10-05\nHeath,B2,2026-01-01\n");
    let asked = register.preview(FILE, &Options::default());
    assert!(problems(&asked).contains(&(8, Some(Field::GiveOn), "B2 is in the register already. Plan for 28 Nov")));
    let skip = Options { existing: Existing::Skip, ..Options::default() };
    register.bring_in(FILE, &skip);
    assert_eq!(register.world.plans.len(), 0);
    let update = Options { existing: Existing::Update, ..Options::default() };
    register.bring_in(FILE, &update);
    assert_eq!(register.world.plans.len(), 1);
}

#[test]
fn another_firm_is_asked_about() {
    let file = "entry,firm,hemisphere\nfirm,Kelp Bees,north\n";
    let mut register = Register::with(file);
    assert_eq!(register.world.firm.name, "Kelp Bees");
    let other = file.replace("Kelp", "Tansy");
    let asked = register.preview(&other, &Options::default());
    assert_eq!(problems(&asked), [(2, Some(Field::Firm), "Another firm or home is in the register already")]);
    let skip = Options { existing: Existing::Skip, ..Options::default() };
    assert_eq!(row(&register.preview(&other, &skip), 2).will, Will::Same);
    register.bring_in(&other, &Options { existing: Existing::Update, ..Options::default() });
    assert_eq!(register.world.firm.name, "Tansy Bees");
}

#[test]
fn a_word_of_an_export_means_nothing_in_a_table_made_by_hand() {
    let preview = Register::new().preview("yard,hive,parcel,evening,called\nHeath,B1,x,y,z\n", &Options::default());
    let fields: Vec<Option<Field>> = preview.headings.iter().map(|heading| heading.field).collect();
    assert_eq!(fields, [Some(Field::Yard), Some(Field::Hive), None, None, None]);
    assert_eq!(problems(&preview), []);
}

#[test]
fn yards_that_are_gone_and_settings_in_any_order_come_back() {
    let text = "entry,yard,removed,hive,known since,ended,setting,value\n\
                setting,,,,,,acceptance_best,20\nsetting,,,,,,acceptance_earliest,18\nsetting,,,,,,acceptance_latest,25\n\
                yard,removed yard 1,yes,,,,,\nhive,removed yard 1,,B1,2026-01-01,2026-02-01,,\n";
    let register = Register::with(text);
    assert_eq!((register.world.yards.len(), register.world.colonies.len()), (0, 1));
    assert_eq!(register.world.settings.acceptance_best(), 20);
    let out = programme_csv(&register.world);
    assert_eq!(programme_csv(&Register::with(&out).world), out);
    let living = text.replace(",2026-02-01,", ",,");
    let preview = Register::new().preview(&living, &Options::default());
    assert_eq!(problems(&preview), [(6, Some(Field::Yard), "removed yard 1 was removed, and B1 lives")]);
}

#[test]
fn long_words_and_signs_no_table_can_hold_go_out_readable() {
    let mut register = Register::with("yard,hive\nHeath,B1\n");
    let hive = register.world.living().next().unwrap().id;
    let colony = std::sync::Arc::make_mut(register.world.colonies.get_mut(&hive).unwrap());
    colony.note = format!("{}\0end", "x".repeat(60_000));
    let back = Register::with(&programme_csv(&register.world));
    assert_eq!(back.world.living().next().unwrap().note.len(), 60_003);
    assert_eq!(back.world.living().next().unwrap().founded, today().plus(-365));
}
