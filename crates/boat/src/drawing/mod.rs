//! A finished sheet in mm: lines and text; knows no file format.
