//! Who asks: this machine, or a phone that is let in.

use crate::record::THIS_MACHINE;
use axum::extract::Request;
use axum::middleware::Next;
use axum::response::Response;

/// Who asks; every request has one, put there by whoever let it in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Caller {
    /// A page on this machine.
    ThisMachine,
    /// A paired phone.
    Phone {
        /// Its number.
        number: i64,
        /// Its name.
        name: String,
    },
}

impl Caller {
    /// What its entries are signed with.
    pub fn device(&self) -> &str {
        match self {
            Caller::ThisMachine => THIS_MACHINE,
            Caller::Phone { name, .. } => name,
        }
    }
}

/// All that comes over the listener of this machine comes from it.
pub async fn this_machine(mut request: Request, next: Next) -> Response {
    request.extensions_mut().insert(Caller::ThisMachine);
    next.run(request).await
}
