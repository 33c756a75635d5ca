//! What may stand on the command line.

use crate::page::Paper;
use clap::{Args as Group, Parser, Subcommand};
use std::path::PathBuf;

const ABOUT: &str =
    "The record of every glue batch and every bond of an all-wood airframe, and the clocks that follow from them";

const LONG_ABOUT: &str = "\
The record of every glue batch and every bond of an all-wood airframe, and the clocks that follow from them.

What happened is told with `act`, one JSON object per act; everything else is a question and never changes a byte \
(only `record` states first, in the record, that a page is handed out). `gluewright schema` lists every act and every \
question with all fields; docs/guide/command-line.md does so in words.

The maker's sheet, the process accepted by your authority and the inspector decide; this program shows facts against \
the limits that you entered.";

const AFTER: &str = "\
Exit status: 0 done, 1 fault of the program or the computer, 2 refused, 3 verify found something, 4 book not usable.

Without --book the book is $GLUEWRIGHT_BOOK, else gluewright/shop.book below $XDG_DATA_HOME (~/.local/share). \
The first act makes it.";

/// Gluewright's command line.
#[derive(Debug, Parser)]
#[command(name = "gluewright", version, about = ABOUT, long_about = LONG_ABOUT, after_help = AFTER)]
pub struct Args {
    /// The shop's book
    #[arg(long, global = true, value_name = "FILE")]
    pub book: Option<PathBuf>,
    /// Print one JSON object per answer instead of text for people
    #[arg(long, global = true)]
    pub json: bool,
    /// The instant judged (RFC 3339): what happened later does not exist. Not for `act`
    #[arg(long, global = true, value_name = "T")]
    pub at: Option<String>,
    /// What was entered after this instant (RFC 3339) does not exist. Not for `act`
    #[arg(long, global = true, value_name = "T")]
    pub known_at: Option<String>,
    /// Units of the answers: metric with °C, or us with °F. What was typed stays as it was typed
    #[arg(long, global = true, value_name = "UNITS", default_value = "metric", value_parser = ["metric", "us"])]
    pub units: String,
    /// What is wanted.
    #[command(subcommand)]
    pub command: Command,
}

/// What is wanted.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Tell what happened: `{"act":"…","body":{…}}`, or an array of such; prints one receipt or error per act
    Act(Input),
    /// Ask a question given as JSON: `{"ask":"…","body":{…}}`, or an array of such
    Ask(Input),
    /// The clocks: all that are live, or those of one bond, batch or part
    Clocks(ClocksOf),
    /// A part's whole story, beginning with what to look at first
    Trace {
        /// Mark of the part
        part: String,
    },
    /// Every part that a lot went into, top-ups and second pots included
    WhereUsed {
        /// Mark of the lot
        lot: String,
    },
    /// Check the record against itself, and against a checkpoint held outside
    Verify {
        /// bytes: hashes and columns; meaning: also what the entries say; rebuild: also everything derived from them
        #[arg(long, value_name = "DEPTH", default_value = "bytes", value_parser = ["bytes", "meaning", "rebuild"])]
        depth: String,
        /// A checkpoint of three lines (log, size, root) that was kept elsewhere
        #[arg(long, value_name = "FILE")]
        checkpoint: Option<PathBuf>,
    },
    /// The log, its size and its root, in three lines to keep elsewhere
    Checkpoint {
        /// Write the three lines to this file
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
    /// The page of a part to hand out, as PDF or JSON; states in the record first that it is handed out
    Record(Record),
    /// The page of a part as it would be handed out now, as JSON; nothing states that it was
    Page {
        /// Mark of the part
        part: String,
    },
    /// What is still owed: reasons, and what was not recorded
    Owed,
    /// The bench: what is live, what to press next, what is owed
    Bench,
    /// A batch: what went in, the verdict, where it went, what is left
    Batch {
        /// Name of the batch: "Tue 3", with its day where two bear the name: "Tue 3 2026-11-24"
        name: String,
    },
    /// How much to weigh, and the total to stop at
    Amounts(Amounts),
    /// What a cup of glue will do, before it is poured: how long, how hot, what a tray or two cups give
    Pour(Pour),
    /// A post-cure before it is done: how long until the glue line is warm, how long it soaks, what that gives
    PostCure(PostCure),
    /// Every thing of one sort, with its id: person, place, card, lot, container, kind, part, batch, bond, …
    List {
        /// The sort
        noun: String,
    },
    /// Every part with its state, by assembly
    Parts,
    /// The stores: cards, lots with what is left and when they expire, kinds, places, people, instruments
    Stores,
    /// Entries in sentences, newest first, page by page
    Entries(Entries),
    /// One entry as it is stored
    Entry {
        /// Its id, or its sequence number
        id: String,
    },
    /// One calculation by itself, without a book: `figure dew-point temperature=70F humidity=60%`
    #[command(disable_help_flag = true)]
    Figure(crate::figure::Figure),
    /// Every act, question and answer as JSON Schema
    Schema,
    /// Write a made-up shop that was lived for fourteen days
    Demo {
        /// The book to write; it must not exist
        file: PathBuf,
        /// Its last instant (RFC 3339); now, if not given
        #[arg(long, value_name = "T")]
        until: Option<String>,
    },
    /// Stay, keep the clocks in view and give the alarms
    Watch(crate::watch::Watch),
}

/// What is handed out, and as what.
#[derive(Debug, Group)]
pub struct Record {
    /// Mark of the part
    pub mark: String,
    /// Write the page to this file: as PDF where its name ends in .pdf, else as JSON
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Size of the sheets of a PDF
    #[arg(long, value_name = "SIZE", default_value = "a4")]
    pub paper: Paper,
    /// Tell on standard error how far it is, one JSON object a line
    #[arg(long)]
    pub progress: bool,
}

/// Which page of the entries.
#[derive(Debug, Group)]
pub struct Entries {
    /// Only entries with a smaller number
    #[arg(long, value_name = "N")]
    pub before: Option<u64>,
    /// Most entries on the page, 1 to 500
    #[arg(long, value_name = "N")]
    pub limit: Option<u64>,
    /// Only entries that name this: a part, `bond:47`, `batch:Tue 3`, `lot:R-118`, `place:bench`, …
    #[arg(long, value_name = "NAME")]
    pub about: Option<String>,
    /// Only entries of this kind: press, mix, reading, …
    #[arg(long, value_name = "KIND")]
    pub kind: Option<String>,
}

/// Where JSON comes from.
#[derive(Debug, Group)]
pub struct Input {
    /// The JSON itself, or the name of a file; `-` or nothing: standard input
    #[arg(value_name = "JSON")]
    pub input: Option<String>,
}

/// Whose clocks.
#[derive(Debug, Group)]
pub struct ClocksOf {
    /// A bond
    #[arg(conflicts_with_all = ["bond", "batch", "part"], value_name = "BOND")]
    pub of: Option<String>,
    /// A bond
    #[arg(long, value_name = "BOND", conflicts_with_all = ["batch", "part"])]
    pub bond: Option<String>,
    /// A batch
    #[arg(long, value_name = "BATCH", conflicts_with = "part")]
    pub batch: Option<String>,
    /// A part
    #[arg(long, value_name = "PART")]
    pub part: Option<String>,
}

/// What is known of a mix; one amount gives the others.
#[derive(Debug, Group)]
pub struct Amounts {
    /// Name of the card
    pub card: String,
    /// Resin, net: "40.0 g"
    #[arg(long, value_name = "AMOUNT", conflicts_with_all = ["hardener", "total"])]
    pub resin: Option<String>,
    /// Hardener, net
    #[arg(long, value_name = "AMOUNT", conflicts_with = "total")]
    pub hardener: Option<String>,
    /// Both together
    #[arg(long, value_name = "AMOUNT")]
    pub total: Option<String>,
    /// Mass of the empty cup, when everything is weighed in one cup without taring
    #[arg(long, value_name = "AMOUNT")]
    pub cup: Option<String>,
}

/// A cup that is not poured yet.
#[derive(Debug, Group)]
pub struct Pour {
    /// Name of the card
    pub card: String,
    /// Resin and hardener together: "150 g"
    pub mass: String,
    /// Where it stands; the book's only place, if not given
    #[arg(long, value_name = "PLACE")]
    pub place: Option<String>,
    /// Temperature of the components: "40 C"; else the air where the cans stand, or the air of the place
    #[arg(long, value_name = "T")]
    pub start: Option<String>,
    /// What it stands in: cup, or tray:6mm
    #[arg(long, value_name = "VESSEL")]
    pub vessel: Option<String>,
    /// A can, by its mark; once for each
    #[arg(long = "can", value_name = "CAN")]
    pub cans: Vec<String>,
}

/// A post-cure that has not happened.
#[derive(Debug, Group)]
pub struct PostCure {
    /// The bond
    pub bond: String,
    /// Temperature of the tent or box: "60 C"
    pub to: String,
    /// Hottest in service: "55 C"; what its part or kind names, if not given
    #[arg(long, value_name = "T")]
    pub service: Option<String>,
    /// Only one face of the wood is in the warm air
    #[arg(long)]
    pub one_face: bool,
}

impl Command {
    /// True where the answer is JSON whatever `--json` says.
    pub fn always_json(&self) -> bool {
        matches!(self, Command::Act(_) | Command::Ask(_) | Command::Page { .. } | Command::Schema)
    }

    /// Its word, where an instant to judge at makes no sense.
    pub fn without_instants(&self) -> Option<&'static str> {
        match self {
            Command::Act(_) => Some("act"),
            Command::Figure(_) => Some("figure"),
            Command::Schema => Some("schema"),
            Command::Demo { .. } => Some("demo"),
            Command::Watch(_) => Some("watch"),
            _ => None,
        }
    }
}
