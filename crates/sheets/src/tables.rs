//! The tables (RFC 4180: header, CRLF, quotes where needed; numbers with a point).

mod after;
mod learned;
mod making;
mod money;
mod price;
mod stones;

pub(crate) use after::after_csv;
pub(crate) use learned::learned_csv;
pub(crate) use making::{coats_csv, steps_csv};
pub(crate) use money::{bill_csv, lines as price_lines};
pub(crate) use price::{batch_csv, per_hundred, price_csv};
pub use stones::stones_csv;
pub(crate) use stones::zones_csv;

/// Gathers rows in memory.
pub(crate) struct Table {
    writer: csv::Writer<Vec<u8>>,
}

impl Table {
    /// A table with its header.
    pub(crate) fn new(header: &[&str]) -> Self {
        let writer = csv::WriterBuilder::new()
            .terminator(csv::Terminator::CRLF)
            .from_writer(Vec::with_capacity(64 * 1024));
        let mut table = Self { writer };
        table.row(header);
        table
    }

    /// One more row, as long as the header.
    pub(crate) fn row<Field: AsRef<[u8]>>(&mut self, fields: &[Field]) {
        // Writing to memory fails only for a row whose length differs from the header's.
        self.writer.write_record(fields).expect("every row is as long as its header");
    }

    /// The bytes.
    pub(crate) fn finish(self) -> Vec<u8> {
        self.writer.into_inner().expect("memory takes every byte")
    }
}
