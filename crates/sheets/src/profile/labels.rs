//! Where the dimensions beside a profile stand: at their height, or as near as others leave room.

/// Heights of labels that want to stand at `wanted`, in growing order, each at least `apart` from the
/// next and off by the least squares: blocks that touch move as one (pool of adjacent violators;
/// M. Ayer and others, Annals of Mathematical Statistics 26, 1955, from memory).
pub(super) fn spread(wanted: &[f64], apart: f64) -> Vec<f64> {
    // Taking off the room that those before need leaves a list that only has to keep its order.
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    for (index, at) in wanted.iter().enumerate() {
        let mut block = (at - apart * index as f64, 1);
        while let Some(&(before, count)) = blocks.last()
            && before > block.0
        {
            blocks.pop();
            let sum = before * count as f64 + block.0 * block.1 as f64;
            block = (sum / (count + block.1) as f64, count + block.1);
        }
        blocks.push(block);
    }
    let level = blocks.iter().flat_map(|(at, count)| std::iter::repeat_n(*at, *count));
    level.enumerate().map(|(index, at)| at + apart * index as f64).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_with_room_stay_and_crowded_ones_share_the_shift() {
        assert_eq!(spread(&[0.0, 10.0, 30.0], 4.0), [0.0, 10.0, 30.0]);
        assert_eq!(spread(&[10.0, 10.0, 40.0], 4.0), [8.0, 12.0, 40.0]);
        let crowd = spread(&[0.0, 1.0, 2.0, 3.0], 4.0);
        assert!(crowd.windows(2).all(|pair| pair[1] - pair[0] > 4.0 - 1e-9));
        assert!((crowd.iter().sum::<f64>() - 6.0).abs() < 1e-9, "{crowd:?}");
    }
}
