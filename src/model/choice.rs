//! Words of which an entry takes one: each list written once, for reading, for help and for conditions.

/// A closed list of words.
pub trait Choice: Copy + Sized + 'static {
    /// What a message calls it: `hitch kind`.
    const NOUN: &'static str;
    /// The words, in the order in which help lists them.
    const ALL: &'static [Self];
    /// The word as written.
    fn word(self) -> &'static str;
    /// The choice with this word.
    fn of(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|choice| choice.word() == word)
    }
}

macro_rules! choice {
    ($(#[$doc:meta])* $name:ident, $noun:literal { $($(#[$item_doc:meta])* $item:ident = $word:literal,)+ }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $name {
            $($(#[$item_doc])* $item,)+
        }

        impl Choice for $name {
            const NOUN: &'static str = $noun;
            const ALL: &'static [Self] = &[$(Self::$item,)+];
            fn word(self) -> &'static str {
                match self {
                    $(Self::$item => $word,)+
                }
            }
        }
    };
}

choice!(
    /// How a number became known, best first.
    Origin, "origin" {
        /// On a scale.
        Weighed = "weighed",
        /// Read off a maker's plate.
        Plate = "plate",
        /// With a tape.
        Measured = "measured",
        /// From a maker's brochure.
        Brochure = "brochure",
        /// By judgement.
        Estimate = "estimate",
    }
);
choice!(
    /// The truck's side of the coupling.
    HitchKind, "hitch kind" {
        /// Ball that carries the tongue weight.
        Ball = "ball",
        /// Ball with bars that put a couple on the frames.
        WeightDistributing = "weight-distributing",
        /// Ball in the bed, over or ahead of the rear axle.
        Gooseneck = "gooseneck",
        /// Plate in the bed that takes a kingpin.
        FifthWheel = "fifth-wheel",
        /// Hook that takes a ring.
        Pintle = "pintle",
    }
);
choice!(
    /// The trailer's side of the coupling.
    CouplerKind, "coupler kind" {
        /// Socket for a ball behind the truck.
        Ball = "ball",
        /// Socket for a ball in the bed.
        Gooseneck = "gooseneck",
        /// Kingpin.
        FifthWheel = "fifth-wheel",
        /// Ring for a pintle hook.
        Pintle = "pintle",
    }
);
choice!(
    /// How a trailer's axles share their load.
    Suspension, "suspension" {
        /// Springs with equalizers: equal loads whatever the attitude.
        Equalized = "equalized",
        /// Each axle on springs of its own.
        Independent = "independent",
    }
);
choice!(
    /// A trailer's brakes on one axle.
    Brakes, "brake kind" {
        /// Electric.
        Electric = "electric",
        /// Hydraulic, driven by an actuator.
        Hydraulic = "hydraulic",
        /// Inertia (surge).
        Surge = "surge",
        /// Air.
        Air = "air",
        /// None.
        None = "none",
    }
);
choice!(
    /// A deck's or a ramp's surface.
    Surface, "surface" {
        /// Smooth steel plate.
        SmoothSteel = "smooth-steel",
        /// Steel plate with a raised tread.
        TreadPlate = "tread-plate",
        /// Wood.
        Wood = "wood",
        /// Aluminum.
        Aluminum = "aluminum",
        /// Rubber mat.
        RubberMat = "rubber-mat",
    }
);
choice!(
    /// What a tire was made for.
    TireKind, "tire kind" {
        /// Light truck.
        Lt = "LT",
        /// Special trailer.
        St = "ST",
        /// Passenger car.
        P = "P",
    }
);
choice!(
    /// What a machine stands on.
    Contact, "contact" {
        /// Rubber tires.
        RubberTire = "rubber-tire",
        /// Rubber tracks.
        RubberTrack = "rubber-track",
        /// Steel tracks.
        SteelTrack = "steel-track",
    }
);
choice!(
    /// What a piece of cargo stands on.
    CargoBase, "base" {
        /// Wood.
        Wood = "wood",
        /// Steel.
        Steel = "steel",
        /// Plastic.
        Plastic = "plastic",
        /// Rubber.
        Rubber = "rubber",
    }
);
choice!(
    /// What touches a deck or ramp: what a machine or a piece of cargo stands on.
    Touching, "what touches" {
        /// Rubber tires.
        RubberTire = "rubber-tire",
        /// Rubber tracks.
        RubberTrack = "rubber-track",
        /// Steel tracks.
        SteelTrack = "steel-track",
        /// Wood.
        Wood = "wood",
        /// Steel.
        Steel = "steel",
        /// Plastic.
        Plastic = "plastic",
        /// Rubber.
        Rubber = "rubber",
    }
);
choice!(
    /// How well a published friction is known.
    FrictionStatus, "status" {
        /// Measured by the company.
        Measured = "measured",
        /// The text was read.
        Seen = "seen",
        /// Read where others quote it.
        Secondary = "secondary",
        /// From memory.
        Memory = "memory",
        /// A working value where no standard names the pair.
        Default = "default",
    }
);
choice!(
    /// Which way a machine's nose points.
    Facing, "facing" {
        /// Toward the truck.
        Forward = "forward",
        /// Away from the truck.
        Backward = "backward",
    }
);
choice!(
    /// An end of an item, a machine or a trailer.
    End, "end" {
        /// Toward the front.
        Front = "front",
        /// Toward the rear.
        Rear = "rear",
    }
);
choice!(
    /// What a tie-down is made of.
    TieKind, "tie-down kind" {
        /// Chain.
        Chain = "chain",
        /// Synthetic webbing.
        Webbing = "webbing",
        /// Wire rope.
        WireRope = "wire-rope",
        /// Fiber rope.
        FiberRope = "fiber-rope",
        /// Steel strapping.
        SteelStrapping = "steel-strapping",
    }
);
choice!(
    /// The state of the deck.
    DeckCondition, "deck condition" {
        /// Dry.
        Dry = "dry",
        /// Wet.
        Wet = "wet",
        /// Iced.
        Icy = "icy",
        /// Muddy.
        Muddy = "muddy",
    }
);
choice!(
    /// The state of a bulk material.
    Moisture, "moisture" {
        /// Dry.
        Dry = "dry",
        /// Wet.
        Wet = "wet",
    }
);
choice!(
    /// Whether the rear stands bore when a gauge was read.
    Stands, "stands" {
        /// Clear of the ground.
        Clear = "clear",
        /// Down.
        Down = "down",
    }
);

impl From<Contact> for Touching {
    fn from(contact: Contact) -> Self {
        match contact {
            Contact::RubberTire => Self::RubberTire,
            Contact::RubberTrack => Self::RubberTrack,
            Contact::SteelTrack => Self::SteelTrack,
        }
    }
}

impl From<CargoBase> for Touching {
    fn from(base: CargoBase) -> Self {
        match base {
            CargoBase::Wood => Self::Wood,
            CargoBase::Steel => Self::Steel,
            CargoBase::Plastic => Self::Plastic,
            CargoBase::Rubber => Self::Rubber,
        }
    }
}
