//! Where a falling function passes zero.

/// Most looks: bisection alone would need forty for nine digits.
const MOST_LOOKS: usize = 60;

/// When to be content.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Near {
    /// Value of the function that counts as zero.
    pub value: f64,
    /// Width of what is left that is narrow enough.
    pub width: f64,
}

/// Where `value` falls through zero between `low` and `high`, by regula falsi with the Illinois rule; `low` where it is no more than zero there
/// already, and `high` where it is not found.
pub fn falling(low: f64, high: f64, near: Near, mut value: impl FnMut(f64) -> f64) -> f64 {
    let (mut low_at, mut high_at) = (low, high);
    let (mut low, mut high) = (value(low_at), value(high_at));
    if low <= 0.0 {
        return low_at;
    }
    let mut side = 0;
    for _ in 0..MOST_LOOKS {
        let at = (low_at * high - high_at * low) / (high - low);
        let here = value(at);
        if here.abs() < near.value || high_at - low_at < near.width {
            return at;
        }
        if here > 0.0 {
            (low_at, low) = (at, here);
            if side == 1 {
                high *= 0.5;
            }
            side = 1;
        } else {
            (high_at, high) = (at, here);
            if side == -1 {
                low *= 0.5;
            }
            side = -1;
        }
    }
    high_at
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    const NEAR: Near = Near { value: 1e-9, width: 1e-12 };

    #[test]
    fn straight_and_bent_functions_pass_zero_where_they_do() {
        assert_abs_diff_eq!(falling(0.0, 10.0, NEAR, |x| 3.0 - x), 3.0, epsilon = 1e-9);
        // The cube root of 2, 1.259921. A function that bends leaves plain regula falsi at one end.
        assert_abs_diff_eq!(falling(0.0, 100.0, NEAR, |x| 2.0 - x * x * x), 1.259_921, epsilon = 1e-6);
    }

    #[test]
    fn what_is_past_zero_at_the_start_is_found_there() {
        assert_eq!(falling(1.0, 2.0, NEAR, |x| -x), 1.0);
    }
}
