//! Readings: the least squares behind them, and sheets with a known error, which the readings must find.

mod known_error;
mod least_squares;
