//! Reading a table.
