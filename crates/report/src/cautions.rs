//! What every page that leaves the shop says to whoever works after it. Facts with their source, no verdict.

use serde_json::{Value, json};

/// Cautions in the order they are printed.
pub fn cautions() -> Value {
    json!([
        {
            "about": "whose word counts",
            "sentence": "The maker's sheet, the process accepted by your authority and the inspector decide. This page shows \
                         what was recorded against the limits that were entered; what was not recorded is not shown as good.",
            "source": "the purpose of this page"
        },
        {
            "about": "who recorded it",
            "sentence": "A person's name is a name that somebody entered. The page can be checked for completeness and for \
                         later changes; it proves nobody's identity.",
            "source": "docs/format.md"
        },
        {
            "about": "sensitisation",
            "sentence": "Epoxy resins, hardeners and reactive diluents each sensitise; allergic dermatitis can also come \
                         through the air. Ordinary rubber gloves protect poorly: laminate or thick nitrile is advised.",
            "source": "UK Health and Safety Executive, research report 79"
        },
        {
            "about": "heat in the pot",
            "sentence": "A large mass of mixed glue in one pot can overheat, smoke and set light to what lies beside it. \
                         Spread it thin when it warms, and put it outside.",
            "source": "from memory, no source at hand"
        },
        {
            "about": "dust",
            "sentence": "Sanding dust of wood and of glue harms the lungs and burns; extract it, wear a respirator when \
                         sanding old joints, and run no electric sander near wet glue, paint or dope.",
            "source": "FAA AC 43.13-1B, paragraphs 1-18 to 1-20, for sanders, ventilation and respirator; lungs and burning from memory"
        }
    ])
}
