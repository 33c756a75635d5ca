//! What the operating system must bring, and how to get it on Debian: through apt, as root or with sudo, saying what
//! it does. Elsewhere it names what is needed and stops.

use crate::Step;
use crate::shell::{command, on_path, run, works};

/// A Debian package and the sign by which it is known to be there, whoever installed it.
#[derive(Clone, Copy)]
pub struct Package {
    name: &'static str,
    what_for: &'static str,
    sign: Sign,
}

#[derive(Clone, Copy)]
enum Sign {
    Program(&'static str),
    Library(&'static str),
    File(&'static str),
    Module(&'static str),
}

const fn package(name: &'static str, what_for: &'static str, sign: Sign) -> Package {
    Package { name, what_for, sign }
}

/// What `run` needs, and what the suite needs besides.
pub const ALL: &[Package] = &[
    package("build-essential", "a C compiler for the database", Sign::Program("cc")),
    package("pkg-config", "finds libraries", Sign::Program("pkg-config")),
    package("libdbus-1-dev", "desktop notifications", Sign::Library("dbus-1")),
    package("libasound2-dev", "sound", Sign::Library("alsa")),
    package("libwebkit2gtk-4.1-dev", "the window", Sign::Library("webkit2gtk-4.1")),
    package("libayatana-appindicator3-dev", "the tray", Sign::Library("ayatana-appindicator3-0.1")),
    package("librsvg2-dev", "icons", Sign::Library("librsvg-2.0")),
    package("nodejs", "builds the window's page", Sign::Program("node")),
    package("npm", "fetches what the page is built with", Sign::Program("npm")),
    package("dbus", "a session bus for the suite", Sign::Program("dbus-run-session")),
    package("python3", "the outside checker and the oracle", Sign::Program("python3")),
    package("faketime", "wall-clock cases", Sign::Program("faketime")),
    package("strace", "counting syncs", Sign::Program("strace")),
    package("util-linux", "cases with a name space of their own", Sign::Program("unshare")),
    package("qpdf", "whether a page's file is sound", Sign::Program("qpdf")),
    package("poppler-utils", "what stands on a page", Sign::Program("pdftotext")),
    package("xvfb", "a screen for the window's cases", Sign::Program("Xvfb")),
    package("openbox", "closing and minimising as a desktop does", Sign::Program("openbox")),
    package("wmctrl", "asking that desktop", Sign::Program("wmctrl")),
    package("xdotool", "keys pressed in the window", Sign::Program("xdotool")),
    package("webkit2gtk-driver", "what the page can and cannot do", Sign::Program("WebKitWebDriver")),
    package(
        "fonts-dejavu-core",
        "letters on that screen",
        Sign::File("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"),
    ),
];

/// What the glue science is measured beside.
pub const PEERS: &[Package] = &[
    package("build-essential", "a C compiler for the peer in C", Sign::Program("cc")),
    package("libsundials-dev", "a solver of differential equations in C", Sign::File("/usr/include/cvode/cvode.h")),
    package("python3", "runs NumPy", Sign::Program("python3")),
    package("python3-venv", "keeps NumPy out of the system", Sign::Module("ensurepip")),
];

/// How many of [`ALL`] (the first ones) are enough to build and run the program.
pub const TO_RUN: usize = 9;

impl Package {
    fn is_there(&self) -> bool {
        match self.sign {
            Sign::Program(program) => on_path(program),
            Sign::Library(library) => works("pkg-config", &["--exists", library]),
            Sign::File(file) => std::path::Path::new(file).is_file(),
            Sign::Module(module) => works("python3", &["-c", &format!("import {module}")]),
        }
    }
}

/// Installs what is missing of these; does nothing, and says nothing, when all of it is there.
pub fn install(wanted: &[Package]) -> Step {
    let missing = missing(wanted);
    if missing.is_empty() {
        return Ok(());
    }
    eprintln!("xtask: this computer lacks:");
    for package in &missing {
        eprintln!("  {:<18} {}", package.name, package.what_for);
    }
    let names: Vec<&str> = missing.iter().map(|package| package.name).collect();
    let by_hand = format!("install them by hand and try again: apt-get install {}", names.join(" "));
    if !on_path("apt-get") {
        return Err(format!(
            "there is no apt-get here. On Debian these packages are {}; install their like",
            names.join(", ")
        ));
    }
    apt(&["update", "-q"]).map_err(|why| format!("the package lists could not be read ({why}); {by_hand}"))?;
    let mut args = vec!["install", "-y", "-q", "--no-install-recommends"];
    args.extend(&names);
    apt(&args).map_err(|why| format!("the packages could not be installed ({why}); {by_hand}"))?;
    let still = self::missing(wanted);
    match still.first() {
        None => Ok(()),
        Some(package) => Err(format!("{} was installed but is still not found", package.name)),
    }
}

fn missing(wanted: &[Package]) -> Vec<Package> {
    wanted.iter().filter(|package| !package.is_there()).copied().collect()
}

/// apt-get that gives up on a mirror that does not answer, asks nothing, and fails when a list could not be fetched.
fn apt(args: &[&str]) -> Step {
    let patience = ["-o", "Acquire::Retries=1", "-o", "Acquire::http::Timeout=20", "-o", "APT::Update::Error-Mode=any"];
    let mut words: Vec<&str> = Vec::new();
    let is_root = command("id", &["-u"]).output().is_ok_and(|output| output.stdout == b"0\n");
    if !is_root {
        if !on_path("sudo") {
            return Err("neither root nor sudo".to_owned());
        }
        words.push("sudo");
    }
    words.extend(["env", "DEBIAN_FRONTEND=noninteractive", "apt-get"]);
    words.extend(patience);
    words.extend(args);
    match words.split_first() {
        Some((program, rest)) => run(&mut command(program, rest)),
        None => Ok(()),
    }
}
