//! What is owed on a batch that no bond names yet: the bond that takes it will be held for the same.

use crate::judge::{BatchStory, Judge};
use crate::wire::WireError;

/// Sentences about a batch: out of ratio, swapped, expired or wrong lots.
pub(super) fn on_batch(judge: &Judge, batch: &BatchStory) -> Result<Vec<String>, WireError> {
    let mut owed = Vec::new();
    let name = &batch.name;
    for (_, mix) in &batch.mixes {
        let Some(judged) = &mix.what.judged else { continue };
        if judged.swapped == Some(true) {
            owed.push(format!("batch {name}: resin and hardener look swapped"));
        }
        match judged.verdict.as_str() {
            "outside" => owed.push(format!("batch {name}: out of ratio")),
            "cannot-tell" => owed.push(format!("batch {name}: this scale cannot tell whether the ratio is within")),
            _ => {}
        }
    }
    let lots = judge.lots_of(batch)?;
    for lot in &lots {
        if lot.expired {
            owed.push(format!("batch {name}: {} lot {} had expired", lot.role, lot.mark));
        }
        if lot.other_adhesive {
            owed.push(format!("batch {name}: {} lot {} belongs to another adhesive", lot.role, lot.mark));
        }
    }
    for role in ["resin", "hardener"] {
        if !lots.is_empty() && lots.iter().all(|lot| lot.role != role) {
            owed.push(format!("batch {name}: no {role} lot among its cans"));
        }
    }
    Ok(owed)
}
