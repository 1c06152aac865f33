//! `cupwright schema [piece|studio|hours|stock|sellers]`.

use crate::args::{SchemaArgs, SchemaOf};
use crate::exit::Exit;
use crate::output::print_json;

/// Prints the JSON Schema (draft 2020-12) of a kind of file.
pub fn run(args: &SchemaArgs) -> Exit {
    print_json(&match args.of {
        SchemaOf::Piece => piece::piece_schema(),
        SchemaOf::Studio => piece::settings_schema(),
        SchemaOf::Hours => piece::hours_schema(),
        SchemaOf::Order => piece::order_schema(),
        SchemaOf::Stock => piece::stock_schema(),
        SchemaOf::Sellers => piece::sellers_schema(),
    })
}
