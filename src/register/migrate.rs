//! The forms of the file, one step of SQL each. The list only grows; a step that was released is never edited.

use rusqlite::{Connection, TransactionBehavior};

/// The steps: the first makes form 1.
pub(crate) const STEPS: &[&str] =
    &[include_str!("migrations/0001_start.sql"), include_str!("migrations/0002_parcel_born.sql")];

/// The oldest form whose rows are written as those of the newest: changes made since can be taken back. A step that
/// alters rows makes its own form the oldest.
pub(crate) const SAME_ROWS_SINCE: i64 = 1;

/// The oldest form that can still be brought up.
pub(crate) const OLDEST: i64 = 1;

/// The form these steps lead to.
pub(crate) fn newest(steps: &[&str]) -> i64 {
    steps.len() as i64
}

/// The form of the file.
pub(crate) fn form(conn: &Connection) -> rusqlite::Result<i64> {
    conn.query_row("PRAGMA user_version", [], |row| row.get(0))
}

/// Brings the file up to the newest form, each step whole or not at all.
pub(crate) fn bring_up(conn: &mut Connection, steps: &[&str]) -> rusqlite::Result<()> {
    let from = form(conn)?;
    for (at, sql) in steps.iter().enumerate().skip(usize::try_from(from).unwrap_or(0)) {
        let step = conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
        step.execute_batch(sql)?;
        step.pragma_update(None, "user_version", at as i64 + 1)?;
        step.commit()?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FNV-1a, 64 bits: enough to notice that a released step was edited.
    fn checksum(text: &str) -> u64 {
        text.bytes().fold(0xcbf2_9ce4_8422_2325, |sum, byte| (sum ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
    }

    #[test]
    fn released_steps_stay_as_they_are() {
        let sums: Vec<_> = STEPS.iter().map(|step| checksum(step)).collect();
        assert_eq!(sums, [0x8ac6_6772_1d9c_035e, 0xc531_800f_0199_d479], "add a step instead of editing one");
    }

    #[test]
    fn a_step_that_fails_leaves_the_form_and_the_rows() {
        let mut conn = Connection::open_in_memory().expect("memory");
        bring_up(&mut conn, &["CREATE TABLE a (x) STRICT; "]).expect_err("a column without a type");
        assert_eq!(form(&conn), Ok(0));
        let steps = ["CREATE TABLE a (x TEXT) STRICT", "INSERT INTO a VALUES ('kept'); CREATE TABLE a (x TEXT)"];
        bring_up(&mut conn, &steps).expect_err("the table is there already");
        assert_eq!(form(&conn), Ok(1));
        let rows: i64 = conn.query_row("SELECT count(*) FROM a", [], |row| row.get(0)).expect("rows");
        assert_eq!(rows, 0, "the insert of the failed step is gone");
    }
}
