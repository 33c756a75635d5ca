//! The real program, built if it is not up to date, started with nothing of the person's own environment.

use serde_json::Value;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::OnceLock;

/// Path of `gluewright`, in the profile that these tests were built in.
pub fn gluewright() -> &'static Path {
    static PATH: OnceLock<PathBuf> = OnceLock::new();
    PATH.get_or_init(|| built("gluewright"))
}

/// Path of the window's program; `gluewright` lies beside it, as the window expects.
pub fn window() -> &'static Path {
    static PATH: OnceLock<PathBuf> = OnceLock::new();
    PATH.get_or_init(|| {
        gluewright();
        built("gluewright-window")
    })
}

/// Cargo brings a program up to date once per test program: a package of tests alone would not.
fn built(package: &str) -> PathBuf {
    let own = std::env::current_exe().expect("a test program has a path");
    let profile = own.parent().and_then(Path::parent).expect("target/PROFILE/deps/test").to_owned();
    let target = profile.parent().expect("target/PROFILE").to_owned();
    let mut cargo = Command::new(std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned()));
    cargo.args(["build", "--quiet", "--package", package, "--target-dir"]).arg(&target);
    if profile.ends_with("release") {
        cargo.arg("--release");
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("tests/ lies in the workspace");
    assert!(cargo.current_dir(root).status().expect("cargo starts").success(), "{package} builds");
    profile.join(package)
}

/// What a finished run left.
#[derive(Debug)]
pub struct Done {
    /// Exit status; -1 when a signal ended it.
    pub status: i32,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

impl Done {
    /// From a finished process.
    pub fn new(output: Output) -> Done {
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("output is UTF-8");
        Done { status: output.status.code().unwrap_or(-1), out: text(output.stdout), err: text(output.stderr) }
    }

    /// The one object on standard output.
    pub fn object(&self) -> Value {
        assert_eq!(self.out.matches('\n').count(), 1, "one line: {self:?}");
        assert!(self.out.ends_with('\n'), "a newline ends it: {self:?}");
        serde_json::from_str(&self.out).unwrap_or_else(|why| panic!("{why}: {self:?}"))
    }

    /// The objects on standard output, one a line.
    pub fn objects(&self) -> Vec<Value> {
        self.out.lines().map(|line| serde_json::from_str(line).unwrap_or_else(|why| panic!("{why}: {line}"))).collect()
    }
}

/// A shop's folder with its book, and the program run in it.
pub struct Shop {
    /// The folder; it goes when the shop does.
    pub folder: tempfile::TempDir,
}

impl Default for Shop {
    fn default() -> Shop {
        Shop::new()
    }
}

impl Shop {
    /// An empty folder.
    pub fn new() -> Shop {
        Shop { folder: tempfile::tempdir().expect("a folder for the test") }
    }

    /// Path of the book.
    pub fn book(&self) -> PathBuf {
        self.folder.path().join("shop.book")
    }

    /// The program with its environment narrowed down to this folder.
    pub fn command(&self, program: &Path) -> Command {
        let mut command = Command::new(program);
        command.current_dir(self.folder.path()).env_clear();
        command.env("PATH", std::env::var_os("PATH").unwrap_or_default());
        command.env("HOME", self.folder.path()).env("GLUEWRIGHT_BOOK", self.book());
        command
    }

    /// Runs `gluewright` with these words and nothing on standard input.
    pub fn run(&self, words: &[&str]) -> Done {
        let output = self.command(gluewright()).args(words).stdin(Stdio::null()).output();
        Done::new(output.expect("gluewright starts"))
    }

    /// Runs it with this on standard input.
    pub fn run_with(&self, words: &[&str], input: &[u8]) -> Done {
        let mut command = self.command(gluewright());
        command.args(words).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().expect("gluewright starts");
        let mut pipe = child.stdin.take().expect("a pipe");
        let input = input.to_owned();
        let writer = std::thread::spawn(move || pipe.write_all(&input));
        let done = Done::new(child.wait_with_output().expect("gluewright ends"));
        // A program that refuses early may leave without having read all of it.
        let _ = writer.join().expect("the writer ends");
        done
    }

    /// Acts that must succeed; gives the receipts.
    pub fn act(&self, acts: &Value) -> Vec<Value> {
        let done = self.run_with(&["act"], acts.to_string().as_bytes());
        assert_eq!(done.status, 0, "{done:?}");
        done.objects().into_iter().map(|line| line["receipt"].clone()).collect()
    }

    /// A question that must be answered.
    pub fn ask(&self, question: &str, body: Value) -> Value {
        let asked = serde_json::json!({ "ask": question, "body": body });
        let done = self.run_with(&["ask"], asked.to_string().as_bytes());
        assert_eq!(done.status, 0, "{done:?}");
        done.object()["answer"].clone()
    }
}
