//! What was done already, is under way, or must be done again.

mod apply;
mod find;

use super::Ordered;
use super::tasks::{Builder, Tasks};
use piece::hours::Happened;
use piece::nearest::nearest;
use piece::{Diagnostic, FieldPath};
use std::collections::BTreeSet;

/// Puts what happened to an order into the book.
pub(crate) fn happened(builder: &mut Builder<'_>, order: &Ordered, mapped: &[Tasks<'_>]) {
    let all: &[Happened] = &builder.hours.happened;
    let mut touched = BTreeSet::new();
    for (index, one) in all.iter().enumerate().filter(|(_, one)| one.order == order.name) {
        let path = FieldPath::root().key("happened").index(index);
        match find::task(builder, order, mapped, one, &path) {
            Ok(task) if touched.contains(&task) => {
                let message =
                    "this step is told of twice, or with another that is done in one go with it";
                builder
                    .errors
                    .push(Diagnostic::error(path.key("step"), message).hint("keep one of the two"));
            }
            Ok(task) => match apply::apply(builder, order, task, one, &path) {
                Ok(()) => drop(touched.insert(task)),
                Err(error) => builder.errors.push(error),
            },
            Err(error) => builder.errors.push(error),
        }
    }
    apply::before(builder, &touched);
}

/// Complains of orders that something happened to and that nobody ordered.
pub(crate) fn unknown_orders(builder: &mut Builder<'_>, orders: &[Ordered]) {
    let names: Vec<&str> = orders.iter().map(|order| order.name.as_str()).collect();
    for (index, one) in builder.hours.happened.iter().enumerate() {
        if names.contains(&one.order.as_str()) {
            continue;
        }
        let path = FieldPath::root().key("happened").index(index).key("order");
        let message = format!("there is no order called `{}`", one.order);
        let error = Diagnostic::error(path, message);
        builder.errors.push(match nearest(&one.order, &names) {
            Some(meant) => error.hint(format!("did you mean \"{meant}\"?")),
            None => error.hint("an order is called by its `name`, or else by its file"),
        });
    }
}
