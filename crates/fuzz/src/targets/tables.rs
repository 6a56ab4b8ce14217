//! Tables of offsets from elsewhere.

use super::told;
use crate::{Spoilt, Target};
use boat::read_in::{Asked, Bare, Comma, table};

pub const TABLE: Target =
    Target { name: "table-in", spoilt: Spoilt::Anything, seeds: tables, run: read_in, short: 600 };

fn tables() -> Vec<Vec<u8>> {
    let crossed = include_str!("../../../../boats/corncrake/offsets.csv");
    let mm = "Offsets in mm;;;;;;\nStation;0;1;2;3;4;5\nat;0;500;1000;1500;2000;2500\nHeights;;;;;;\nSheer;600;560,5;530;520;525;\
              540\nRabbet;90;80;78;78;80;85\nButtock 200;320;150;120;118;160;300\nHalf-breadths;;;;;;\nSheer;300;480;520;522;\
              450;350\nWL 300;180;400;450;440;340;200\nWL 400;230;440;490;480;400;270\n";
    let long = "station,at,row,value\n0,0,height sheer,0.6\n0,0,height rabbet,0.09\n0,0,half-breadth sheer,0.3\n0,0,waterline 0.3,\
                0.18\n1,0.5,height sheer,0.55\n1,0.5,height rabbet,0.08\n1,0.5,half-breadth sheer,0.48\n1,0.5,waterline 0.3,0.4\n\
                2,1,height sheer,0.52\n2,1,height rabbet,0.08\n2,1,half-breadth sheer,0.52\n2,1,waterline 0.3,0.45\n3,1.5,height \
                sheer,0.53\n3,1.5,height rabbet,0.08\n3,1.5,half-breadth sheer,0.45\n3,1.5,waterline 0.3,0.34\n";
    let down = "Station,Sheer height,Sheer half-breadth,Rabbet height,WL 12 in\n1,2-1-7+,0-9-5,0-3-3,0-5-0\n2,1-11-4+,1-6-0+,0-3-1,\
                0-11-0\n3,1-9-6,1-11-4,0-3-1,1-4-7\n4,1-8-4+,2-2-4+,0-3-1,1-9-5+\n";
    [crossed, mm, long, down].map(|t| t.as_bytes().to_vec()).to_vec()
}

fn read_in(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    let none = Asked { bare: None, comma: None, spacing: None, at: None };
    let decimal = Some(Comma::Decimal);
    let asked = [
        Asked { spacing: Some(457.2), ..none.clone() },
        Asked { bare: Some(Bare::Mm), comma: decimal, ..none.clone() },
        Asked { bare: Some(Bare::M), at: Some(vec![0.0, 500.0, 1000.0, 1500.0]), ..none.clone() },
        Asked { bare: Some(Bare::FeetInchesEighths), comma: Some(Comma::Thousands), ..none },
    ];
    for asked in &asked {
        if let Err(why) = table(&text, "spoilt.csv", asked) {
            told(&why, input);
        }
    }
}
