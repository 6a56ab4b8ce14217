//! Drawing to bytes.
