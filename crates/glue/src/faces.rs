//! The glued faces of the usual joints: how many meet, and their area.

use crate::joint::scarf;

/// A joint by what is measured on it, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Joint {
    /// One member laid on another.
    Lap {
        /// Overlap.
        length: f64,
        /// Across it.
        width: f64,
    },
    /// Two members cut to the same slope.
    Scarf {
        /// Of the members.
        thickness: f64,
        /// Of the members.
        width: f64,
        /// One in so many.
        slope: f64,
    },
    /// A web let into a groove of a cap strip: its edge and both its sides.
    WebInCap {
        /// Along the strip.
        length: f64,
        /// Of the web.
        thickness: f64,
        /// Of the groove.
        depth: f64,
    },
    /// Two plates, one on either side of what they join.
    GussetPair {
        /// Of a plate.
        length: f64,
        /// Of a plate.
        width: f64,
        /// Triangular plates cover half of their rectangle.
        triangular: bool,
        /// Share of a plate that lies on wood.
        covered: f64,
    },
    /// A web or its tab through a slot: both sides and both edges.
    WebInSlot {
        /// Of the web, along the slot.
        width: f64,
        /// Of the web.
        thickness: f64,
        /// Of the member that is slotted.
        depth: f64,
    },
    /// A corner filled along its length, glued to both members.
    Fillet {
        /// Along the corner.
        length: f64,
        /// On either member.
        leg: f64,
    },
    /// Two faces end to end or edge to edge.
    Butt {
        /// Of the face.
        length: f64,
        /// Of the face.
        width: f64,
    },
}

/// What is glued.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glued {
    /// Pairs of faces that meet in glue.
    pub faces: u64,
    /// Their area, mm²; each pair counts once.
    pub area: f64,
}

/// The glued faces of a joint.
pub fn glued(joint: &Joint) -> Glued {
    let of = |faces, area| Glued { faces, area };
    match *joint {
        Joint::Lap { length, width } | Joint::Butt { length, width } => of(1, length * width),
        Joint::Scarf { thickness, width, slope } => of(1, thickness * width * scarf(slope).area),
        Joint::WebInCap { length, thickness, depth } => of(3, length * (2.0 * depth + thickness)),
        Joint::GussetPair { length, width, triangular, covered } => {
            of(2, 2.0 * length * width * covered * if triangular { 0.5 } else { 1.0 })
        }
        Joint::WebInSlot { width, thickness, depth } => of(4, 2.0 * depth * (width + thickness)),
        Joint::Fillet { length, leg } => of(2, 2.0 * length * leg),
    }
}

/// Volume, mm³, of a fillet's three-sided body, if it is of glue: its section is half its leg squared. One hollowed
/// round takes 1 - pi/4, 43 % of that.
pub fn fillet_body(length: f64, leg: f64) -> f64 {
    length * leg * leg / 2.0
}
