//! The faces of a region and their centroids, read off which limits its vertices meet.
//!
//! Every face is what some limits have in common: the set of vertices that meet them all. All such sets are found by
//! meeting them with one limit after the other; a face has one dimension more than the largest of the faces inside it.

use std::collections::HashMap;

use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;
use crate::solve::Vertex;
use crate::watch::{Halt, Watched};

/// The most faces that are gone through.
const MOST_FACES: usize = 50_000;

/// A set of vertices by their places, a bit each.
type Set = Box<[u64]>;

/// The centroids of the faces of dimension 1 up to `highest`, with the dimension: the means of their vertices. The
/// whole region is no face here.
pub(super) fn centroids(
    vertices: &[Vertex],
    highest: usize,
    watched: &Watched,
) -> Result<Vec<(usize, Vec<Exact>)>, Error> {
    let limits: Vec<Set> = {
        let mut limits: Vec<usize> = vertices.iter().flat_map(|vertex| vertex.met.iter().copied()).collect();
        limits.sort_unstable();
        limits.dedup();
        limits
            .into_iter()
            .map(|limit| set(vertices.len(), (0..vertices.len()).filter(|place| vertices[*place].met.contains(&limit))))
            .collect()
    };
    let whole = set(vertices.len(), 0..vertices.len());
    // Each face with the faces that a limit cuts out of it.
    let mut places: HashMap<Set, usize> = HashMap::from([(whole.clone(), 0)]);
    let mut faces: Vec<(Set, Vec<usize>)> = vec![(whole, Vec::new())];
    let mut next = 0;
    while next < faces.len() {
        watched.check()?;
        for limit in &limits {
            let cut: Set = faces[next].0.iter().zip(limit).map(|(face, limit)| face & limit).collect();
            if cut.iter().all(|bits| *bits == 0) || cut == faces[next].0 {
                continue;
            }
            let place = *places.entry(cut.clone()).or_insert_with(|| {
                faces.push((cut, Vec::new()));
                faces.len() - 1
            });
            faces[next].1.push(place);
            if faces.len() > MOST_FACES {
                return Err(Fault::new(FaultKind::OutOfRange, "the region has too many faces")
                    .value(format!("more than {MOST_FACES}"))
                    .remedy("ask for no centroids (`centroids` 0), or fix lines that are not to be varied")
                    .into());
            }
        }
        next += 1;
    }
    let mut order: Vec<usize> = (0..faces.len()).collect();
    order.sort_by_key(|face| faces[*face].0.iter().map(|bits| bits.count_ones()).sum::<u32>());
    let mut dimensions = vec![0; faces.len()];
    for face in order {
        dimensions[face] = faces[face].1.iter().map(|inside| dimensions[*inside] + 1).max().unwrap_or(0);
    }
    let mut found: Vec<(usize, Vec<Exact>)> = Vec::new();
    for (face, dimension) in
        faces.iter().zip(dimensions).skip(1).filter(|(_, dimension)| (1..=highest).contains(dimension))
    {
        watched.check()?;
        found.push((
            dimension,
            mean(
                (0..vertices.len())
                    .filter(|place| face.0[place / 64] >> (place % 64) & 1 == 1)
                    .map(|place| &vertices[place]),
            ),
        ));
    }
    found.sort();
    Ok(found)
}

/// The mean of vertices.
pub(super) fn mean<'a>(vertices: impl Iterator<Item = &'a Vertex>) -> Vec<Exact> {
    let mut sum: Vec<Exact> = Vec::new();
    let mut count = 0;
    for vertex in vertices {
        sum.resize(vertex.percents.len(), Exact::ZERO);
        sum.iter_mut().zip(&vertex.percents).for_each(|(sum, percent)| *sum += percent);
        count += 1;
    }
    let count = Exact::from(count);
    sum.into_iter().map(|sum| sum / &count).collect()
}

fn set(count: usize, places: impl Iterator<Item = usize>) -> Set {
    let mut bits = vec![0; count.div_ceil(64)];
    for place in places {
        bits[place / 64] |= 1 << (place % 64);
    }
    bits.into()
}
