//! Sizes of a lid label: two sizes as designed, the others between, below and above them.

/// Sizes of everything on a label. Letters in points, the rest in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct LabelStyle {
    /// Letters of the lid note.
    pub(crate) line: f32,
    /// From one line of the lid note to the next.
    pub(crate) lead: f32,
    /// From the inset to the first baseline.
    pub(crate) first: f32,
    /// Letters of the small print.
    pub(crate) small: f32,
    /// From the last line of the lid note to the small print.
    pub(crate) small_first: f32,
    /// From one line of small print to the next.
    pub(crate) small_lead: f32,
    /// Letters at the foot.
    pub(crate) foot: f32,
    /// Side of a box, outside.
    pub(crate) box_side: f32,
    /// Line of a box.
    pub(crate) box_line: f32,
    /// From a box to its letter.
    pub(crate) box_gap: f32,
    /// From a letter to the next box, and around the lines to write on.
    pub(crate) foot_gap: f32,
    /// Line for the initials.
    pub(crate) by_rule: f32,
    /// From the bottom of the boxes down to the inset.
    pub(crate) foot_lift: f32,
}

/// Smallest letters of the lid note, in points: what wet hands can read at arm's length (design).
pub(crate) const LEAST_LINE: f32 = 12.0;

/// Smallest small print, in points (common practice, no source).
pub(crate) const LEAST_SMALL: f32 = 6.0;

/// Letter, 3 x 10: 25.4 mm high, the lowest of the presets. Its scale against the designed label is 0.75.
const LOW: LabelStyle = LabelStyle {
    line: 12.0,
    lead: 5.0,
    first: 3.6,
    small: 6.5,
    small_first: 3.7,
    small_lead: 2.5,
    foot: 7.0,
    box_side: 2.4,
    box_line: 0.28,
    box_gap: 0.8,
    foot_gap: 1.7,
    by_rule: 6.5,
    foot_lift: 0.0,
};

/// 63.5 x 33.9 mm (design).
const SHEET: LabelStyle = LabelStyle {
    line: 14.0,
    lead: 6.0,
    first: 4.6,
    small: 7.5,
    small_first: 4.95,
    small_lead: 3.0,
    foot: 8.0,
    box_side: 2.8,
    box_line: 0.32,
    box_gap: 0.9,
    foot_gap: 2.1,
    by_rule: 7.2,
    foot_lift: 0.2,
};

/// 100 x 50 mm (design).
const ROLL: LabelStyle = LabelStyle {
    line: 22.0,
    lead: 9.0,
    first: 6.5,
    small: 10.5,
    small_first: 6.9,
    small_lead: 4.2,
    foot: 11.0,
    box_side: 4.0,
    box_line: 0.45,
    box_gap: 1.1,
    foot_gap: 3.3,
    by_rule: 10.4,
    foot_lift: 0.1,
};

impl LabelStyle {
    /// Sizes for a label of this width and height in mm.
    pub(crate) fn for_label(width: f32, height: f32) -> Self {
        let scale = |w: f32, h: f32| (w / 63.5).min(h / 33.9);
        let (low, roll) = (scale(66.675, 25.4), scale(100.0, 50.0));
        let own = scale(width, height);
        if own <= 1.0 {
            LOW.towards(SHEET, ((own - low) / (1.0 - low)).max(0.0))
        } else if own <= roll {
            SHEET.towards(ROLL, (own - 1.0) / (roll - 1.0))
        } else {
            // Larger labels are the roll's label enlarged, up to three times.
            ROLL.times((own / roll).min(3.0))
        }
    }

    /// From here to the other style, 0 to 1.
    fn towards(self, other: Self, part: f32) -> Self {
        self.zip(other, |here, there| here + (there - here) * part)
    }

    fn times(self, factor: f32) -> Self {
        self.zip(self, |size, _| size * factor)
    }

    fn zip(self, other: Self, mix: impl Fn(f32, f32) -> f32) -> Self {
        Self {
            line: mix(self.line, other.line),
            lead: mix(self.lead, other.lead),
            first: mix(self.first, other.first),
            small: mix(self.small, other.small),
            small_first: mix(self.small_first, other.small_first),
            small_lead: mix(self.small_lead, other.small_lead),
            foot: mix(self.foot, other.foot),
            box_side: mix(self.box_side, other.box_side),
            box_line: mix(self.box_line, other.box_line),
            box_gap: mix(self.box_gap, other.box_gap),
            foot_gap: mix(self.foot_gap, other.foot_gap),
            by_rule: mix(self.by_rule, other.by_rule),
            foot_lift: mix(self.foot_lift, other.foot_lift),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_two_designed_labels_have_their_designed_sizes() {
        let sheet = LabelStyle::for_label(63.5, 33.9);
        assert_eq!((sheet.line, sheet.lead, sheet.small, sheet.box_side), (14.0, 6.0, 7.5, 2.8));
        let roll = LabelStyle::for_label(100.0, 50.0);
        for (size, designed) in [(roll.line, 22.0), (roll.lead, 9.0), (roll.small, 10.5), (roll.box_side, 4.0)] {
            assert!((size - designed).abs() < 1e-4, "{size} {designed}");
        }
    }

    #[test]
    fn sizes_grow_with_the_label_and_never_fall_under_twelve_points() {
        let lines: Vec<f32> = [(30.0, 19.0), (62.0, 29.0), (99.1, 38.1), (101.6, 50.8), (150.0, 100.0)]
            .map(|(w, h)| LabelStyle::for_label(w, h).line)
            .to_vec();
        assert!(lines.is_sorted() && lines[0] >= LEAST_LINE, "{lines:?}");
    }

    #[test]
    fn a_full_label_fits_every_preset() {
        use crate::print::sheet::Sheet;
        for sheet in Sheet::presets() {
            let style = LabelStyle::for_label(sheet.label_w, sheet.label_h);
            let small = sheet.inset + style.first + 2.0 * style.lead + style.small_first;
            let boxes = sheet.label_h - sheet.inset - style.foot_lift - style.box_side;
            assert!(small + 0.6 < boxes, "{}: small print at {small}, boxes at {boxes}", sheet.title());
        }
    }
}
