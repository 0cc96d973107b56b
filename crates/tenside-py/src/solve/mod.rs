//! What a brief comes to, and what is asked of that.

pub(crate) mod answer;
pub(crate) mod candidates;
pub(crate) mod chosen;
pub(crate) mod conflict;
pub(crate) mod constraint;
pub(crate) mod no_formula;
pub(crate) mod outcome;
pub(crate) mod proof;
pub(crate) mod reach;
pub(crate) mod rounded;
pub(crate) mod sensitivity;
pub(crate) mod steps;
pub(crate) mod substitution;
