//! What was done, is under way or failed.

use super::{first_moment, last_moment};
use crate::FieldPath;
use crate::file::hours::{HappenedFile, StateFile};
use crate::hours::{Happened, MakerHours, Order, State, When};
use crate::resolve::Bench;
use jiff::civil::DateTime;

pub(super) fn happened(
    file: &[HappenedFile],
    orders: &[Order],
    makers: &[MakerHours],
    bench: &mut Bench<'_>,
) -> Vec<Happened> {
    let list = FieldPath::root().key("happened");
    let makers: Vec<&str> = makers.iter().map(|maker| maker.name.as_str()).collect();
    let orders: Vec<&str> = orders.iter().map(|order| order.name.as_str()).collect();
    file.iter()
        .enumerate()
        .map(|(index, one)| {
            let path = list.index(index);
            // Orders can also come as piece files on the command line; then they are not all here.
            if !orders.is_empty() {
                bench.find(&path.key("order"), "order", &one.order.0, &orders);
            }
            if let Some(maker) = one.maker.as_ref().filter(|_| !makers.is_empty()) {
                bench.find(&path.key("maker"), "maker", maker, &makers);
            }
            Happened {
                order: one.order.0.clone(),
                group: one.group,
                part: one.part.as_ref().map(|part| part.0.clone()),
                step: one.step.clone(),
                number: one.number,
                state: state(one, &path, bench),
                maker: one.maker.clone(),
            }
        })
        .collect()
}

fn state(file: &HappenedFile, path: &FieldPath, bench: &mut Bench<'_>) -> State {
    let began = file.began.as_ref().map(first_moment);
    let ended = file.ended.as_ref().map(last_moment);
    if let (Some(began), Some(ended)) = (began, ended)
        && ended <= began
    {
        bench.error(&path.key("ended"), "it ended before it began");
    }
    if file.left.is_some() && file.state != StateFile::UnderWay {
        let message = "only of a step that is `under-way` something is left";
        bench.error_hint(&path.key("left"), message, "take `left` out");
    }
    let needed = |key: &str, bench: &mut Bench<'_>| {
        let message = format!("`{key}` is missing: nobody can tell when the next step may begin");
        bench.error_hint(
            path,
            message,
            format!("add {key} = 2027-04-02T18:30, the moment it {key}"),
        );
        DateTime::MIN
    };
    match file.state {
        StateFile::Done => State::Done(began, ended.unwrap_or_else(|| needed("ended", bench))),
        StateFile::UnderWay => {
            if file.ended.is_some() {
                let hint = "take `ended` out, or write state = \"done\"";
                bench.error_hint(&path.key("ended"), "a step under way has not ended", hint);
            }
            if matches!(file.began.as_ref().map(|began| began.0), Some(When::Day(_))) {
                let message = "a step under way needs the time at which it was begun";
                bench.error_hint(
                    &path.key("began"),
                    message,
                    "write day and time, such as 2027-04-02T18:30",
                );
            }
            let began = began.unwrap_or_else(|| needed("began", bench));
            State::UnderWay(began, file.left.map(|left| left.0))
        }
        StateFile::Failed => State::Failed(ended.unwrap_or_else(|| needed("ended", bench))),
    }
}
