//! The bench book.
