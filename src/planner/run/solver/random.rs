//! A small seeded generator, so that the same problem gives the same run on every machine.

/// SplitMix64: G. L. Steele, D. Lea and C. H. Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014.
#[derive(Clone, Debug)]
pub struct Random(u64);

impl Random {
    /// A generator that always gives the same numbers for the same seed.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next 64 random bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number from 0 up to but without `limit`; 0 for a limit of 0. The bias is below 2⁻³² for limits that fit 32 bits.
    pub fn below(&mut self, limit: usize) -> usize {
        let wide = u128::from(self.bits()) * (limit as u128);
        (wide >> 64) as usize
    }

    /// Puts the items in random order (Fisher and Yates).
    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            let other = self.below(last + 1);
            items.swap(last, other);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Random;

    /// First outputs for the seed 1234567, as given with the reference implementation of SplitMix64
    /// (Rosetta Code, "Pseudo-random numbers/Splitmix64").
    #[test]
    fn gives_the_published_numbers() {
        let mut random = Random::new(1_234_567);
        let first: Vec<u64> = (0..5).map(|_| random.bits()).collect();
        assert_eq!(
            first,
            [
                6_457_827_717_110_365_317,
                3_203_168_211_198_807_973,
                9_817_491_932_198_370_423,
                4_593_380_528_125_082_431,
                16_408_922_859_458_223_821
            ]
        );
    }

    #[test]
    fn shuffling_keeps_every_item() {
        let mut random = Random::new(1);
        let mut items: Vec<usize> = (0..50).collect();
        random.shuffle(&mut items);
        assert_ne!(items, (0..50).collect::<Vec<_>>());
        items.sort_unstable();
        assert_eq!(items, (0..50).collect::<Vec<_>>());
    }
}
