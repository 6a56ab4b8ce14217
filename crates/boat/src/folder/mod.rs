//! The boat folder's texts, read into values.
