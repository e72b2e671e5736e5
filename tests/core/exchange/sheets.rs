//! Sheets as people keep them: titles above the headings, merged cells, sums at the foot, yes and no for a dot.

use lidnote::domain::place::Place;
use lidnote::domain::queen::Dot;
use lidnote::exchange::table::headings::Field;
use lidnote::exchange::table::preview::{Options, Will};

use super::{Register, check_held, problems, row};

const SHEET: &str = "\
Our bees,,,,,
May 2026 - do not edit,,,,,
,,,,,
Apiary ,Hive No.,GPS (lat/lon),Queen year,Marked?,Queen from
Birch Hill,1,\"53.2101, -105.7512\",2026,yes,Prairie
,2,,2025,no,Prairie
,2,,2025,Y,
Slough Road,1,53°14'20\"N 105°40'05\"W,,x,
TOTAL,4,,,,
";

#[test]
fn headings_below_titles_are_found_and_said() {
    let preview = Register::new().preview(SHEET, &Options::default());
    let fields: Vec<Option<Field>> = preview.headings.iter().map(|heading| heading.field).collect();
    let known = [Field::Yard, Field::Hive, Field::Coordinates, Field::Born, Field::Dot, Field::Source];
    assert_eq!(fields, known.map(Some));
    assert_eq!(preview.left_out, ["rows 1 to 2 above the headings, which stand in row 4"]);
}

#[test]
fn merged_cells_and_sums_are_held_back_until_it_is_said_what_they_mean() {
    let preview = Register::new().preview(SHEET, &Options::default());
    let held = problems(&preview);
    assert_eq!(held[0], (6, Some(Field::Yard), "No yard is named"));
    assert_eq!(held[1], (7, Some(Field::Yard), "No yard is named"));
    let no_colour = "x does not say the colour of her dot, and her year is not known";
    assert_eq!(held[2], (8, Some(Field::Dot), no_colour));
    assert_eq!(held[3], (9, Some(Field::Yard), "TOTAL is a sum, no yard"));
    assert_eq!(row(&preview, 5).will, Will::Add);
}

#[test]
fn an_empty_yard_can_be_the_one_above_and_doubles_are_seen_then() {
    let options = Options { yard_above: true, ..Options::default() };
    let mut register = Register::new();
    let preview = register.bring_in(SHEET, &options);
    assert_eq!(row(&preview, 6).cells[0], "Birch Hill");
    assert_eq!(row(&preview, 7).says, "Hive 2 is already in row 6");
    assert_eq!(preview.left_out[1], "the yard's name in 2 rows: it is the one above");
    let yard = register.world.yards.values().find(|yard| yard.name == "Birch Hill").expect("the yard");
    assert_eq!(yard.place, Place::new(53.2101, -105.7512));
    let dots: Vec<Option<Dot>> = register.world.queens.values().map(|queen| queen.dot).collect();
    assert_eq!(dots, [Some(Dot::of_year(2026)), None]);
}

#[test]
fn a_yard_is_not_filled_down_into_rows_of_yards() {
    let options = Options { yard_above: true, ..Options::default() };
    let preview = Register::new().preview("yard,hive,note\nHeath,1,\n,,by the gate\n", &options);
    assert_eq!(problems(&preview), [(3, Some(Field::Yard), "No yard is named")]);
}

#[test]
fn a_y_is_yellow_where_dots_are_letters_and_yes_where_they_are_yes_and_no() {
    let dots = |text: &str| {
        let mut register = Register::new();
        register.bring_in(text, &Options::default());
        register.world.queens.values().map(|queen| queen.dot).collect::<Vec<_>>()
    };
    let rows = |second: &str| format!("yard,hive,queen born,dot\nHeath,1,2026,y\nHeath,2,2026,{second}\n");
    assert_eq!(dots(&rows("g")), [Some(Dot::Yellow), Some(Dot::Green)]);
    assert_eq!(dots(&rows("n")), [Some(Dot::White), None]);
}

#[test]
fn what_is_not_read_says_how_to_write_it() {
    check_held("yard,hive,gps", "Heath,1,by the mill", Field::Coordinates, "by the mill is no place");
    check_held("yard,hive,last look,found", "Heath,1,Nov 3,e", Field::LastLook, "Nov 3 has no year");
    check_held("yard,hive,queen born", "Heath,1,'25", Field::Born, "'25 is no year of four figures");
    let serial = "46154 is a spreadsheet's number for 12 May 2026";
    check_held("yard,hive,last look,found", "Heath,1,46154,e", Field::LastLook, serial);
}
