//! Lofting, planking geometry and fastening of clinker boats: values in, values out.
//!
//! A builder's folder of texts ([`folder`]) gives what is asked for ([`spec`]) and the table of offsets ([`offsets`]); a table may
//! also come of others' files ([`read_in`]), a picture of a plan ([`plan_sheet`]) or a standing hull ([`taken_off`]).
//! The table is faired and its doubtful entries named ([`lines`]), so that a skin passes: sections to the inside of the
//! planking, the shape of the moulds ([`moulds`]). Land lines are laid over it ([`lining`]) and from them the strakes,
//! keel to sheer, each on the one below ([`planks`]). Each is laid flat ([`development`]); timbers cross them
//! ([`timbers`]), thwarts and knees go in ([`interior`]), rivets hold them ([`fastenings`]), planks longer than the boards
//! are parted ([`scarfs`]), boards may or may not be long enough ([`stock`]), and all of it weighs something ([`weights`]).
//!
//! [`plan`] runs the whole and hands on one value. Where she floats ([`flotation`]), what she costs at the builder's [`rates`]
//! ([`quote`]), which board each plank comes out of ([`sawing`]), what is done next ([`jobs`]) and how she really stands
//! ([`hung`]) follow from it when they are asked for; [`paper`] makes a book of it, [`exchange`] files for other programs.
//! [`repair`] makes one plank for a standing boat, of which there is no plan.
//!
//! Nothing here opens a file or knows the time: the same input gives the same plan and the same bytes. Lengths are mm,
//! angles radians; frame: x aft from the first station, y outboard, z up from base; one side.
//!
//! ```
//! use boat::{folder, paper, plan};
//!
//! let texts = folder::BoatTexts {
//!     toml: include_str!("../../../boats/corncrake/boat.toml").to_string(),
//!     offsets: include_str!("../../../boats/corncrake/offsets.csv").to_string(),
//!     marks: None,
//!     ..Default::default()
//! };
//! let plan = plan::plan(&folder::read(&texts)?)?;
//! assert_eq!(plan.strakes.len(), 10);
//! let garboard = &plan.flats[0];
//! assert!(garboard.length > 3400.0 && garboard.board_width < 125.0);
//! let book = paper::book::write(&plan, paper::PaperSize::A4)?;
//! assert!(book.starts_with(b"%PDF"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod backbone;
mod cores;
pub mod development;
pub mod drawing;
pub mod exchange;
pub mod eyes;
pub mod fastenings;
pub mod findings;
pub mod flotation;
pub mod folder;
pub mod geom;
pub mod hung;
pub mod ink;
pub mod interior;
pub mod jobs;
pub mod lands;
pub mod lines;
pub mod lining;
pub mod load;
pub mod moulds;
pub mod offsets;
pub mod paper;
pub mod plan;
pub mod plan_sheet;
pub mod planks;
pub mod quote;
pub mod rates;
pub mod read_in;
pub mod repair;
pub mod sawing;
pub mod scarfs;
pub mod setting_up;
pub mod spec;
pub mod stock;
pub mod swelling;
pub mod taken_off;
pub mod timbers;
pub mod units;
pub mod weights;
pub mod words;
pub mod worked;
