//! Seeded chance: the same seed draws the same things on every machine.

/// SplitMix64 (Steele, Lea and Flood 2014).
pub struct Chance(u64);

impl Chance {
    /// Begins with a seed.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A whole number from 0 to `below` - 1.
    pub fn below(&mut self, below: usize) -> usize {
        (self.bits() >> 33) as usize % below.max(1)
    }

    /// A whole number from `least` to `most`, both included.
    pub fn between(&mut self, least: i32, most: i32) -> i32 {
        least + self.below((most - least + 1) as usize) as i32
    }

    /// Happens in so many of a hundred cases.
    pub fn percent(&mut self, of_hundred: usize) -> bool {
        self.below(100) < of_hundred
    }

    /// One of the list by its weight.
    pub fn weighted<'a, T: ?Sized>(&mut self, list: &[(usize, &'a T)]) -> &'a T {
        let mut at = self.below(list.iter().map(|(weight, _)| weight).sum());
        for (weight, thing) in list {
            if at < *weight {
                return thing;
            }
            at -= weight;
        }
        list[0].1
    }
}
