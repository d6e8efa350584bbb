//! The limit that no heat pump passes.

/// Logarithmic mean of the water's absolute temperatures, K: the temperature at which a reversible machine gives its heat.
pub fn log_mean_k(water_in_k: f64, water_out_k: f64) -> f64 {
    if water_in_k == water_out_k {
        return water_in_k;
    }
    (water_out_k - water_in_k) / libm::log(water_out_k / water_in_k)
}

/// COP of the reversible machine between air of one temperature and water that warms up (Lorenz cycle), K:
/// `COP = T_lm/(T_lm - T_air)`. `None` where the water is, in its log mean, no warmer than the air: there is no limit then.
///
/// Source: the second law with constant specific heat. Derived here: entropy of air and water in balance.
pub fn cop_lorenz(room_air_k: f64, water_in_k: f64, water_out_k: f64) -> Option<f64> {
    let mean_k = log_mean_k(water_in_k, water_out_k);
    (mean_k > room_air_k).then(|| mean_k / (mean_k - room_air_k))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::constants::ZERO_CELSIUS_K;
    use approx::assert_relative_eq;

    /// Entropy: heat Q into water of constant specific heat between 10 and 60 °C, heat Q - P out of air at 4 °C. A reversible
    /// machine makes none: `c ln(T2/T1) = (Q - P)/T_air`. Derived here: first and second law; COP 10.140.
    #[test]
    fn a_reversible_machine_makes_no_entropy() {
        let (air, cold, warm) = (ZERO_CELSIUS_K + 4.0, ZERO_CELSIUS_K + 10.0, ZERO_CELSIUS_K + 60.0);
        let cop = cop_lorenz(air, cold, warm).expect("the water is warmer");
        assert_relative_eq!(cop, 10.140, epsilon = 5e-4);
        let heat = warm - cold;
        assert_relative_eq!(libm::log(warm / cold), (heat - heat / cop) / air, max_relative = 1e-12);
    }

    #[test]
    fn water_no_warmer_than_the_air_has_no_limit() {
        assert_eq!(cop_lorenz(300.0, 290.0, 300.0), None);
        assert_eq!(cop_lorenz(300.0, 300.0, 300.0), None);
        assert!(cop_lorenz(300.0, 299.0, 302.0).is_some());
    }
}
