//! The rules of due work as tables: what was given, done and found, and what it means.
//!
//! Where each rule is held:
//!
//! | rule | test |
//! |---|---|
//! | what each stage of brood proves, and from which day | `domain::brood`, `corners::larvae_count…`, `aurell` |
//! | the count starts anew at the last other layer | `corners::the_count_of_brood…`, `pairs::brood_of_a_united…`, `finds::a_test_frame…` |
//! | laying and identity are two answers | `corners::another_queen…`, `corners::eggs_prove_nothing_of_her…` |
//! | days of every look and step | `domain::standing::windows`, `issue`, `finds`, `waiting` |
//! | a virgin's days, the cell that is one by its graft | `finds::a_virgin_has…`, `pairs::a_virgin_counts…`, `corners::a_cell_older…` |
//! | days gone by, not the look's name; no evidence | `finds::days_gone_by…`, `finds::what_is_no_evidence…` |
//! | eggs count from part of the nest too | `pairs::eggs_count_from_part…` |
//! | the strongest find decides | `finds::the_strongest_find…` |
//! | cells too early, in part, hers or rivals, left standing | `corners::closed_cells…`, `corners::an_opened_cell…`, `waiting::a_cell_left_standing…` |
//! | queen without eggs, nothing on day 24 or later | `finds::a_second_acceptance_look…`, `corners::day_24…`, `after` |
//! | look again; frame look | `finds::a_look_again…`, `finds::a_test_frame…`, `after::a_test_frame…` |
//! | late layers and the capped-brood look | `corners::a_late_layer…`, `corners::late_layers_are…`, `aurell` |
//! | another queen, which? | `corners::another_queen…`, `after::eggs_after_a_queen_was_dead…` |
//! | old queen never found | `corners::eggs_prove_nothing_of_her…`, `corners::an_old_queen_found…`, `waiting::an_old_queen_not_found…` |
//! | own raising: how it begins, its verdict | `waiting::a_waiting_colony…`, `finds::own_raising…`, `finds::eggs_before…`, `pairs::a_daughter…` |
//! | disease closes looks, lifting brings them back | `corners::disease_closes…`, `bars::a_disease_bar…`, `bars::steps_of_a_plan…` |
//! | after a push-in cage | `finds::a_push_in_cage…` |
//! | lids swapped | `corners::swapped_lids…`, `decide::swapped_lids…` |
//! | late from the day after | `issue::a_caged_queen…`, `corners::a_look_is_late…` |
//! | steps of a plan; none where she is given at once | `waiting::a_plan_makes…` |
//! | the queenless clock, what was looked for already | `waiting::the_clock…`, `waiting::a_whole_nest…`, `after::a_nest_without_cells…` |
//! | bars by method, by hand, by yard, soft ones, season | `bars`, `held` |
//! | plans are refused, facts never | `examples::a_queen_given_against…`, `bars::a_queen_given_against…`, `amending::a_queen_given_on…` |
//! | impossible facts are asked about | `decide`, `amending` |
//! | splits, unitings, swarms, moves, second queens | `pairs`, `waiting::a_colony_united…`, `decide::a_split…`, `amending` |
//! | age by season and in months, both hemispheres, bounds | `ages` |
//! | the lid note, and which label waits | `lids`, `exchange::import::lids_of_hives…` |
//! | single conditions of all of these, story by story | `told` |
//! | amending is as good as having recorded it right | `properties`, `examples::a_find_on_the_wrong_hive…` |

mod after;
mod ages;
mod aurell;
mod bars;
mod corners;
mod finds;
mod held;
mod hives;
mod issue;
mod lids;
mod pairs;
mod properties;
mod stories;
mod told;
mod waiting;
