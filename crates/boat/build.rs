//! Lays the four faces of the printed pages ready for the program to embed. The crate they come in holds sixty more, which
//! would make the program half as large again.

use std::path::Path;

/// Their PostScript names, and the files that `drawing::typeface` embeds.
const FACES: [(&str, &str); 4] = [
    ("LibertinusSerif-Regular", "regular.otf"),
    ("LibertinusSerif-Semibold", "semibold.otf"),
    ("LibertinusSerif-Bold", "bold.otf"),
    ("LibertinusSerif-Italic", "italic.otf"),
];

fn main() -> Result<(), String> {
    println!("cargo::rerun-if-changed=build.rs");
    let folder = std::env::var("OUT_DIR").map_err(|e| format!("OUT_DIR: {e}"))?;
    for (name, file) in FACES {
        let data = typst_assets::fonts()
            .find(|data| is_named(data, name))
            .ok_or_else(|| format!("typst-assets holds no face {name}: pick another version of it"))?;
        std::fs::write(Path::new(&folder).join(file), data).map_err(|e| format!("{file}: {e}"))?;
    }
    Ok(())
}

fn is_named(data: &[u8], name: &str) -> bool {
    let Ok(face) = ttf_parser::Face::parse(data, 0) else { return false };
    face.names()
        .into_iter()
        .any(|n| n.name_id == ttf_parser::name_id::POST_SCRIPT_NAME && n.to_string().as_deref() == Some(name))
}
