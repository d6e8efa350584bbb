//! Which points of a lattice are looked at: all of them where they are few enough, else a coarse grid and then the neighbours of the best.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use rayon::iter::{IntoParallelRefIterator, ParallelIterator};

/// A point of the lattice: for each variable the position of its value.
pub type Point = Vec<usize>;

/// Looks at points of a lattice, at most `most` of them.
///
/// A coarse grid takes at most half of them; then the neighbours of the best point so far are looked at, one and two variables moved at a time,
/// in steps that are halved whenever none of them is better. What is looked at does not depend on the number of threads.
///
/// # Arguments
/// - `sizes`: how many values each variable has, 1 at least
/// - `most`: most points that are looked at, 1 at least
/// - `look`: what a point comes to
/// - `order`: less is better; equals are taken in the order of their points
///
/// # Errors
/// The first error of `look`, in the order of the points.
pub fn search<T: Send, E: Send>(
    sizes: &[usize],
    most: usize,
    look: &(dyn Fn(&Point) -> Result<T, E> + Sync),
    order: &dyn Fn(&T, &T) -> Ordering,
) -> Result<BTreeMap<Point, T>, E> {
    let mut seen = BTreeMap::new();
    let mut strides =
        strides(sizes, if count(sizes, &vec![1; sizes.len()]) <= most { most } else { most / 2 });
    look_at(grid(sizes, &strides), most, look, &mut seen)?;
    if strides.iter().all(|&stride| stride == 1) {
        return Ok(seen);
    }
    while seen.len() < most {
        let best = best(&seen, order).clone();
        look_at(neighbours(&best, sizes, &strides), most, look, &mut seen)?;
        if *self::best(&seen, order) != best {
            continue;
        }
        if strides.iter().all(|&stride| stride == 1) {
            break;
        }
        for stride in &mut strides {
            *stride = (*stride).div_ceil(2);
        }
    }
    Ok(seen)
}

fn look_at<T: Send, E: Send>(
    points: Vec<Point>,
    most: usize,
    look: &(dyn Fn(&Point) -> Result<T, E> + Sync),
    seen: &mut BTreeMap<Point, T>,
) -> Result<(), E> {
    let mut new: Vec<Point> = points.into_iter().filter(|point| !seen.contains_key(point)).collect();
    new.truncate(most.saturating_sub(seen.len()));
    let looked: Vec<Result<T, E>> = new.par_iter().map(look).collect();
    for (point, one) in new.into_iter().zip(looked) {
        seen.insert(point, one?);
    }
    Ok(())
}

fn best<'a, T>(seen: &'a BTreeMap<Point, T>, order: &dyn Fn(&T, &T) -> Ordering) -> &'a Point {
    let first =
        seen.iter().reduce(|best, one| if order(one.1, best.1) == Ordering::Less { one } else { best });
    first.expect("at least one point is looked at").0
}

/// Points of the coarse grid along one variable: every so many, and the last.
fn along(size: usize, stride: usize) -> Vec<usize> {
    let mut points: Vec<usize> = (0..size).step_by(stride).collect();
    if points.last() != Some(&(size - 1)) {
        points.push(size - 1);
    }
    points
}

/// How many points the grid has; as many as fit where there are more.
fn count(sizes: &[usize], strides: &[usize]) -> usize {
    let along = sizes.iter().zip(strides).map(|(&size, &stride)| along(size, stride).len());
    along.fold(1, |product: usize, one| product.saturating_mul(one))
}

/// The finest strides with which the grid has at most so many points, the variable with most points coarsened first; as coarse as can be where none has.
fn strides(sizes: &[usize], most: usize) -> Vec<usize> {
    let mut strides = vec![1; sizes.len()];
    while count(sizes, &strides) > most {
        let points = |index: usize| along(sizes[index], strides[index]).len();
        let widest = (0..sizes.len()).rev().max_by_key(|&index| points(index)).unwrap_or(0);
        if points(widest) <= 2 {
            break;
        }
        strides[widest] *= 2;
    }
    strides
}

fn grid(sizes: &[usize], strides: &[usize]) -> Vec<Point> {
    let mut points = vec![Point::new()];
    for (&size, &stride) in sizes.iter().zip(strides) {
        let along = along(size, stride);
        points = points
            .iter()
            .flat_map(|point| along.iter().map(move |&at| [point.as_slice(), &[at]].concat()))
            .collect();
    }
    points
}

/// Points with one or two variables moved by a stride.
fn neighbours(point: &Point, sizes: &[usize], strides: &[usize]) -> Vec<Point> {
    let moved = |point: &Point, index: usize, up: bool| -> Option<Point> {
        let at = if up { point[index] + strides[index] } else { point[index].checked_sub(strides[index])? };
        let mut moved = point.clone();
        moved[index] = at;
        (at < sizes[index]).then_some(moved)
    };
    let mut points = Vec::new();
    for index in 0..sizes.len() {
        for up in [false, true] {
            let Some(one) = moved(point, index, up) else { continue };
            for other in index + 1..sizes.len() {
                points.extend([false, true].iter().filter_map(|&up| moved(&one, other, up)));
            }
            points.push(one);
        }
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::convert::Infallible;
    use std::sync::atomic::{AtomicUsize, Ordering as Atomic};

    fn bowl(point: &Point) -> Result<f64, Infallible> {
        // Lowest at (13, 4), along a slanting valley.
        let (x, y) = (point[0] as f64 - 13.0, point[1] as f64 - 4.0);
        Ok(x * x + y * y + 1.2 * x * y)
    }

    fn searched(sizes: &[usize], most: usize) -> (Point, usize) {
        let looks = AtomicUsize::new(0);
        let look = |point: &Point| {
            looks.fetch_add(1, Atomic::Relaxed);
            bowl(point)
        };
        let seen = search(sizes, most, &look, &f64::total_cmp).unwrap_or_else(|never| match never {});
        assert_eq!(seen.len(), looks.into_inner(), "a point was looked at twice");
        (best(&seen, &f64::total_cmp).clone(), seen.len())
    }

    #[test]
    fn few_points_are_all_looked_at() {
        assert_eq!(searched(&[20, 10], 200), (vec![13, 4], 200));
        assert_eq!(searched(&[1, 1], 1), (vec![0, 0], 1));
    }

    #[test]
    fn of_many_the_best_is_found_with_few_looks() {
        let (best, looks) = searched(&[40, 30], 200);
        assert_eq!(best, vec![13, 4]);
        assert!(looks < 150, "{looks}");
        assert!(searched(&[40, 30], 17).1 <= 17);
    }

    #[test]
    fn equals_are_taken_in_their_order_and_the_first_error_is_told() {
        let same = search(&[3, 3], 9, &|_: &Point| Ok::<_, ()>(1.0), &f64::total_cmp).unwrap();
        assert_eq!(*best(&same, &f64::total_cmp), vec![0, 0]);
        let failing = |point: &Point| if point[0] > 0 { Err(point.clone()) } else { Ok(0.0) };
        assert_eq!(search(&[3, 3], 9, &failing, &f64::total_cmp).unwrap_err(), vec![1, 0]);
    }

    #[test]
    fn a_lattice_beyond_all_count_is_searched_within_its_limit() {
        let look = |point: &Point| Ok::<_, Infallible>(point.iter().sum::<usize>() as f64);
        let seen = search(&[50; 8], 60, &look, &f64::total_cmp).unwrap_or_else(|never| match never {});
        assert_eq!(seen.len(), 60);
    }
}
