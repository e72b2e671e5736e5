//! Who watches the solver at work.

/// Is told how far the solver is, and may stop it. A closure that says whether to stop is one that is told nothing.
pub trait Watch {
    /// The work is to stop. Asked often.
    fn stopped(&self) -> bool;

    /// So many rounds of so many have been tried. Told only where there is no proof.
    fn reached(&self, _round: u32, _of: u32) {}
}

impl<F: Fn() -> bool> Watch for F {
    fn stopped(&self) -> bool {
        self()
    }
}
