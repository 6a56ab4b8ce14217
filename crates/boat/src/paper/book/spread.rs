//! Labels that stand in a row and would crowd.

/// Moves places apart until none is nearer its neighbour than their half-widths allow, and all are within the frame.
/// Clusters keep their middle: the pool-adjacent-violators way of least squares under an order.
pub fn spread(places: &[f64], half: &[f64], left: f64, right: f64) -> Vec<f64> {
    // Taking off the widths of those before turns "apart" into "not falling".
    let mut offset = vec![0.0; places.len()];
    for i in 1..places.len() {
        offset[i] = offset[i - 1] + half[i - 1] + half[i];
    }
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (place, off) in places.iter().zip(&offset) {
        pools.push((place - off, 1));
        while let [.., (a, n), (b, m)] = pools[..] {
            if a <= b {
                break;
            }
            pools.truncate(pools.len() - 2);
            pools.push(((a * n as f64 + b * m as f64) / (n + m) as f64, n + m));
        }
    }
    let level = pools.iter().flat_map(|(v, n)| std::iter::repeat_n(*v, *n));
    let last = offset.last().copied().unwrap_or(0.0);
    let (least, most) = (left + half.first().unwrap_or(&0.0), right - half.last().unwrap_or(&0.0) - last);
    level.zip(&offset).map(|(v, off)| v.min(most).max(least) + off).collect()
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[test]
    fn labels_that_have_room_stay_and_crowded_ones_part_about_their_middle() {
        assert_eq!(spread(&[10.0, 50.0], &[4.0, 4.0], 0.0, 100.0), [10.0, 50.0]);
        assert_eq!(spread(&[40.0, 42.0], &[4.0, 4.0], 0.0, 100.0), [37.0, 45.0]);
    }

    #[test]
    fn labels_keep_order_distance_and_the_page() {
        let places = [1.0, 2.0, 2.5, 30.0, 31.0, 97.0, 99.0];
        let half = [5.0, 3.0, 4.0, 5.0, 5.0, 4.0, 5.0];
        let x = spread(&places, &half, 0.0, 100.0);
        for i in 1..x.len() {
            assert!(x[i] - x[i - 1] >= half[i] + half[i - 1] - 1e-9, "{x:?}");
        }
        assert!(x[0] >= 5.0 - 1e-9 && x[6] <= 95.0 + 1e-9, "{x:?}");
    }
}
