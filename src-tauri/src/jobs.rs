//! Work that the command line does beside the window: pages, and the made-up shop. Each is a process of its own, which
//! tells how far it is, one JSON object a line, and can be ended.

use crate::host::{Host, locked};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use workshop::wire::WireError;

/// Pages at work at once at most.
const AT_ONCE: usize = 2;

/// What is under way, by its id.
#[derive(Default)]
pub struct Jobs {
    at_work: Mutex<BTreeMap<String, Arc<Mutex<Child>>>>,
}

/// `gluewright` beside this program.
fn gluewright() -> Result<PathBuf, WireError> {
    let beside = std::env::current_exe().ok().map(|own| own.with_file_name("gluewright"));
    beside.filter(|program| program.is_file()).ok_or_else(|| {
        let sentence = "The program `gluewright` is not beside this one, so nothing can be made.";
        WireError::new("fault", sentence, "Put both programs into one folder.")
    })
}

impl Jobs {
    /// Starts one. `then` is told the file when it is made.
    pub fn start(
        host: &Arc<Host>,
        words: &[String],
        file: PathBuf,
        then: impl FnOnce(&Host, &Path) + Send + 'static,
    ) -> Result<Value, WireError> {
        let mut at_work = locked(&host.jobs.at_work);
        if at_work.len() >= AT_ONCE {
            return Err(WireError::new("conflict", "Two pages are being made already.", "Wait for one, or end it."));
        }
        let mut command = Command::new(gluewright()?);
        command.args(words).stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let started = command.spawn();
        let mut child =
            started.map_err(|why| WireError::new("fault", format!("gluewright did not start: {why}."), ""))?;
        let (out, err) = (child.stdout.take(), child.stderr.take());
        let (id, child) = (uuid::Uuid::new_v4().to_string(), Arc::new(Mutex::new(child)));
        at_work.insert(id.clone(), Arc::clone(&child));
        let (host, job) = (Arc::clone(host), id.clone());
        std::thread::spawn(move || {
            let (beside, its) = (Arc::clone(&host), job.clone());
            let errors = std::thread::spawn(move || hear(&beside, &its, err));
            let (refusal, _) = hear(&host, &job, out);
            let (_, errors) = errors.join().unwrap_or_default();
            let status = locked(&child).wait();
            let ended = locked(&host.jobs.at_work).remove(&job).is_none();
            let made = status.is_ok_and(|status| status.success()) && file.is_file();
            let error =
                if made { Value::Null } else { refusal.filter(|_| !ended).unwrap_or_else(|| error(ended, &errors)) };
            if made {
                then(&host, &file);
            }
            let file = if made { json!(file) } else { Value::Null };
            host.tell.tell(json!({ "tell": "page", "job": job, "done": u32::from(made) * 1_000_000, "said": "",
                                   "finished": true, "file": file, "error": error }));
        });
        Ok(json!({ "job": id }))
    }

    /// Ends one; its half-made file is the program's own to remove.
    pub fn cancel(&self, id: &str) -> Result<Value, WireError> {
        match locked(&self.at_work).remove(id) {
            Some(child) => {
                let _ = locked(&child).kill();
                Ok(Value::Null)
            }
            None => Err(WireError::new("not-found", "That is not under way any more.", "").field("job")),
        }
    }

    /// Ends all.
    pub fn end(&self) {
        let all = std::mem::take(&mut *locked(&self.at_work));
        for child in all.into_values() {
            let _ = locked(&child).kill();
        }
    }
}

/// Hears one pipe to its end: gives the program's own error, and the last line that was none of its objects.
fn hear(host: &Host, job: &str, pipe: Option<impl Read>) -> (Option<Value>, String) {
    let (mut error, mut text) = (None, String::new());
    // A program gone wild is cut off.
    let lines = pipe.into_iter().flat_map(|pipe| BufReader::new(pipe.take(1 << 20)).lines()).map_while(Result::ok);
    for line in lines {
        match serde_json::from_str(&line) {
            Ok(object) => error = said(host, job, object).or(error),
            Err(_) => text = line,
        }
    }
    (error, text)
}

/// A line such as `{"done":250000,"said":"Drawing page 2"}` is passed on; the error in `{"error":{…}}` is given back.
fn said(host: &Host, job: &str, mut line: Value) -> Option<Value> {
    if let Some(done) = line["done"].as_u64() {
        let said = line["said"].as_str().unwrap_or_default();
        host.tell.tell(json!({ "tell": "page", "job": job, "done": done.min(1_000_000), "said": said,
                               "finished": false, "file": null, "error": null }));
    }
    line.get_mut("error").map(Value::take).filter(|error| error["sentence"].is_string())
}

/// What is known of a failure that the program did not put into words itself.
fn error(ended: bool, errors: &str) -> Value {
    if ended {
        return json!(WireError::new("conflict", "It was ended before it was done.", "Start it again when you like."));
    }
    let said = if errors.is_empty() { "it said nothing" } else { errors };
    json!(WireError::new("fault", format!("It could not be made: {said}."), "Try again."))
}
