//! Starting hidden with the session: one `.desktop` file, written and removed as the setting says.

use crate::book::Folders;
use std::path::PathBuf;

fn file(folders: &Folders) -> PathBuf {
    folders.autostart().join("gluewright.desktop")
}

/// Makes it so.
pub fn set(folders: &Folders, on: bool) -> std::io::Result<()> {
    let file = file(folders);
    if !on {
        return match std::fs::remove_file(file) {
            Err(why) if why.kind() != std::io::ErrorKind::NotFound => Err(why),
            _ => Ok(()),
        };
    }
    std::fs::create_dir_all(folders.autostart())?;
    let program = quoted(&std::env::current_exe()?.to_string_lossy());
    let text = format!(
        "[Desktop Entry]\nType=Application\nName=Gluewright\nComment=Alarms of the shop's glue clocks\n\
         Exec={program} --hidden\nTerminal=false\n"
    );
    std::fs::write(file, text)
}

/// An argument of `Exec` (Desktop Entry Specification, "The Exec key"; from memory).
fn quoted(argument: &str) -> String {
    let mut quoted = String::from("\"");
    for letter in argument.chars() {
        match letter {
            '"' | '`' | '$' => quoted.extend(['\\', '\\', letter]),
            '\\' => quoted.push_str("\\\\\\\\"),
            '%' => quoted.push_str("%%"),
            other => quoted.push(other),
        }
    }
    quoted.push('"');
    quoted
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_path_with_signs_stays_one_argument() {
        assert_eq!(super::quoted("/opt/glue shop/50%/a$b"), "\"/opt/glue shop/50%%/a\\\\$b\"");
    }
}
