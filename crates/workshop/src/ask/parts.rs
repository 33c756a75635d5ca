//! Every part with its state, by assembly. A part is as good as its worst bond, and never better than what of it is
//! still in no bond.

use super::Asking;
use super::answer::{PartLine, PartsAnswer, PartsAssembly};
use super::work::{Glued, in_order};
use crate::judge::findings::BondState;
use crate::judge::rest::Outline;
use crate::judge::words::{instant, list};
use crate::wire::WireError;
use logbook::entry::Id;
use logbook::entry::part::Part;
use logbook::store::Error;
use std::collections::BTreeMap;

/// States in the order in which they are counted.
const STATES: [&str; 4] = ["held", "running", "not glued", "clear"];

/// Bonds of every part: name and state.
type Bonds = BTreeMap<Id, Vec<(String, String)>>;

/// Answers `parts`.
pub fn parts(asking: &Asking) -> Result<PartsAnswer, WireError> {
    let outlines = asking.outlines()?;
    let (glued, bonds) = (Glued::of(&outlines), bonds(&outlines));
    let mut assemblies: BTreeMap<(bool, Option<String>), Vec<PartLine>> = BTreeMap::new();
    for (id, part) in asking.parts()? {
        let line = line(asking, &id, &part, &glued, bonds.get(&id).map_or(&[], Vec::as_slice))?;
        assemblies.entry((part.assembly.is_none(), part.assembly)).or_default().push(line);
    }
    let all: Vec<&PartLine> = assemblies.values().flatten().collect();
    let said = said(&all);
    let assemblies = assemblies.into_iter().map(|((_, assembly), parts)| PartsAssembly { assembly, parts }).collect();
    Ok(PartsAnswer { at: instant(asking.at_ms), assemblies, said })
}

fn bonds(outlines: &[(Id, Outline)]) -> Bonds {
    let mut bonds = Bonds::new();
    for (_, one) in outlines {
        for part in one.parts() {
            bonds.entry(part).or_default().push((one.name.clone(), one.state.clone()));
        }
    }
    bonds
}

fn line(asking: &Asking, id: &str, part: &Part, glued: &Glued, bonds: &[(String, String)]) -> Result<PartLine, Error> {
    let kind = asking.kind_of(part)?;
    let stages = kind.as_ref().map(|kind| kind.stages.as_slice()).unwrap_or_default();
    let done = stages.iter().filter(|stage| glued.whole(id, stage)).count();
    let added = asking.added(id)?;
    let open = added.iter().filter(|plan| glued.bonds(id, &plan.mark).is_empty()).count();
    let of = |state: BondState| {
        let mut names: Vec<String> =
            bonds.iter().filter(|(_, one)| one == state.word()).map(|(name, _)| name.clone()).collect();
        in_order(&mut names);
        names
    };
    let (held, running) = (of(BondState::Held), of(BondState::Running));
    let state = match (held.is_empty(), running.is_empty()) {
        (false, _) => "held",
        (true, false) => "running",
        _ if bonds.is_empty() || done < stages.len() || open > 0 => "not glued",
        _ => "clear",
    };
    let mut said = Vec::new();
    match stages.len() {
        0 => {}
        1 => said.push(if done == 1 { "glued" } else { "not glued" }.to_owned()),
        all => said.push(format!("{done} of {all} stages glued")),
    }
    if !added.is_empty() {
        said.push(format!("{} of {} joints of its own glued", added.len() - open, added.len()));
    }
    said.extend(these(&held, "held"));
    said.extend(these(&running, "running"));
    if said.is_empty() {
        said.push(if bonds.is_empty() { "nothing glued" } else { "every bond clear" }.to_owned());
    }
    let mut names: Vec<String> = bonds.iter().map(|(name, _)| name.clone()).collect();
    in_order(&mut names);
    Ok(PartLine {
        mark: part.mark.clone(),
        id: id.to_owned(),
        kind: kind.map(|kind| kind.mark),
        state: state.to_owned(),
        said: said.join("; "),
        bonds: names,
    })
}

/// "bonds 12 and 14 held".
fn these(names: &[String], word: &str) -> Option<String> {
    let bonds = if names.len() == 1 { "bond" } else { "bonds" };
    (!names.is_empty()).then(|| format!("{bonds} {} {word}", list(names)))
}

/// "35 parts: 2 held, 3 running".
fn said(all: &[&PartLine]) -> String {
    let counted = STATES.iter().filter_map(|state| {
        let count = all.iter().filter(|part| part.state == *state).count();
        (count > 0).then(|| format!("{count} {state}"))
    });
    match all.len() {
        0 => "no parts yet".to_owned(),
        1 => format!("1 part: {}", counted.collect::<Vec<_>>().join(", ")),
        count => format!("{count} parts: {}", counted.collect::<Vec<_>>().join(", ")),
    }
}
