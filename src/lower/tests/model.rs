//! What the model holds.
