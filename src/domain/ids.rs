//! One newtype for each kind of id, so that a yard's id cannot be used for a hive.
//!
//! Ids are UUIDs of version 7 (RFC 9562). They are minted outside the domain and carried inside a change, so that
//! deciding stays pure and a redo gives the same ids.

use std::fmt;

use serde::{Deserialize, Serialize};
use uuid::Uuid;

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub Uuid);

        impl $name {
            /// An id made from a plain number: for tests and seeded demo data, never for a user's register.
            pub const fn from_number(number: u128) -> Self {
                Self(Uuid::from_u128(number))
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }
    };
}

id!(
    /// A yard.
    YardId
);
id!(
    /// A colony (the bees and their history, not the box).
    ColonyId
);
id!(
    /// A queen.
    QueenId
);
id!(
    /// A source of queens: a breeder or an own line.
    SourceId
);
id!(
    /// Something that happened at a hive on a day.
    RecordId
);
id!(
    /// A parcel of queens or cells.
    ParcelId
);
id!(
    /// A planned introduction.
    PlanId
);
id!(
    /// A bar set by hand.
    BarId
);
id!(
    /// The run of one vehicle on one day.
    RunId
);
