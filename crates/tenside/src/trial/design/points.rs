//! Points of a design: those of a kind, and the candidates that runs are chosen among.
//!
//! Source of the kinds: H. Scheffé, Journal of the Royal Statistical Society B 20, 1958, 344-360 (simplex lattice) and
//! B 25, 1963, 235-263 (simplex centroid); R. A. McLean, V. L. Anderson, Extreme vertices design of mixture
//! experiments, Technometrics 8, 1966, 447-454; J. A. Cornell, Experiments with Mixtures (axial blends); all from
//! memory.

use super::faces::{centroids, mean};
use super::space::Space;
use crate::document::named_enum;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;
use crate::trial::terms::{ProcessOrder, Terms};

/// The most points of a kind, and the most candidates.
pub(super) const MOST_POINTS: usize = 20_000;

named_enum! {
    /// A kind of design.
    DesignKind "kind of design" {
        /// Every component at so many even steps, for a region with as many vertices as components.
        SimplexLattice = "simplex-lattice",
        /// Every component alone and every equal blend of some, for a region with as many vertices as components.
        SimplexCentroid = "simplex-centroid",
        /// Vertices, the centroid, and the blends half way between them.
        Axial = "axial",
        /// Vertices, centroids of faces, and the centroid of all.
        ExtremeVertices = "extreme-vertices",
        /// So many runs with the greatest determinant of their information that is found.
        DOptimal = "d-optimal",
        /// So many runs with the least variance of what the model says, on the average over the region, that is found.
        IOptimal = "i-optimal",
    }
}

named_enum! {
    /// Where in a region a point lies.
    PointKind "kind of point" {
        /// A vertex.
        Vertex = "vertex",
        /// The middle of an edge.
        Edge = "edge-centroid",
        /// The mean of the vertices of a face.
        Face = "face-centroid",
        /// The mean of all vertices.
        Centroid = "centroid",
        /// A point of a lattice between vertices.
        Lattice = "lattice-point",
        /// Half way between the centroid and a vertex.
        Axial = "axial-blend",
    }
}

/// A mixture at settings of the process.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Point {
    pub(super) kind: PointKind,
    pub(super) percents: Vec<Exact>,
    /// Coded: -1, 0 or 1.
    pub(super) coded: Vec<i8>,
}

/// Vertices, centroids of faces up to a dimension, and that of all, at every combination of the levels of the process.
pub(super) fn candidates(space: &Space, terms: &Terms, highest: usize) -> Result<Vec<Point>, Error> {
    let mut blends: Vec<(PointKind, Vec<Exact>)> =
        space.vertices.iter().map(|vertex| (PointKind::Vertex, vertex.percents.clone())).collect();
    if highest > 0 && space.region.dimension() > 1 {
        let kind = |dimension: usize| if dimension == 1 { PointKind::Edge } else { PointKind::Face };
        blends.extend(
            centroids(&space.vertices, highest, space.brief.watched())?
                .into_iter()
                .map(|(dimension, percents)| (kind(dimension), percents)),
        );
    }
    blends.push((PointKind::Centroid, mean(space.vertices.iter())));
    crossed(blends, terms)
}

/// The points of a kind that says itself which they are.
pub(super) fn of_kind(space: &Space, terms: &Terms, kind: DesignKind, steps: usize) -> Result<Vec<Point>, Error> {
    let vertices: Vec<&Vec<Exact>> = space.vertices.iter().map(|vertex| &vertex.percents).collect();
    let between = |weights: &[usize]| -> Vec<Exact> {
        let whole = Exact::from(weights.iter().sum::<usize>() as i64);
        (0..vertices[0].len())
            .map(|line| {
                vertices
                    .iter()
                    .zip(weights)
                    .map(|(vertex, weight)| &vertex[line] * Exact::from(*weight as i64))
                    .sum::<Exact>()
                    / &whole
            })
            .collect()
    };
    let count = vertices.len();
    if matches!(kind, DesignKind::SimplexLattice | DesignKind::SimplexCentroid) && count != space.region.dimension() + 1
    {
        return Err(Fault::new(
            FaultKind::Unsupported,
            "the region is no simplex: it has more vertices than components",
        )
        .at(kind.to_string())
        .value(format!("{count} vertices, {} components", space.fractions.components.len()))
        .remedy("take extreme-vertices or d-optimal")
        .into());
    }
    let blends = match kind {
        DesignKind::SimplexLattice => lattice(count, steps)?
            .into_iter()
            .map(|weights| {
                (if weights.contains(&steps) { PointKind::Vertex } else { PointKind::Lattice }, between(&weights))
            })
            .collect(),
        DesignKind::SimplexCentroid => subsets(count)?
            .into_iter()
            .map(|weights| {
                let members: usize = weights.iter().sum();
                let kind = match members {
                    1 => PointKind::Vertex,
                    all if all == count => PointKind::Centroid,
                    2 => PointKind::Edge,
                    _ => PointKind::Face,
                };
                (kind, between(&weights))
            })
            .collect(),
        _ => {
            let mut blends: Vec<_> = vertices.iter().map(|vertex| (PointKind::Vertex, (*vertex).clone())).collect();
            let centroid = mean(space.vertices.iter());
            let half_way = |vertex: &&Vec<Exact>| {
                vertex.iter().zip(&centroid).map(|(left, right)| (left + right) / Exact::from(2)).collect()
            };
            blends.extend(vertices.iter().map(|vertex| (PointKind::Axial, half_way(vertex))));
            blends.push((PointKind::Centroid, centroid.clone()));
            blends
        }
    };
    crossed(blends, terms)
}

fn too_many() -> Error {
    Fault::new(FaultKind::OutOfRange, "too many points for a design")
        .value(format!("more than {MOST_POINTS}"))
        .allowed(format!("up to {MOST_POINTS}"))
        .remedy("take fewer steps, centroids, components or process variables")
        .into()
}

fn crossed(blends: Vec<(PointKind, Vec<Exact>)>, terms: &Terms) -> Result<Vec<Point>, Error> {
    let levels: &[i8] = match terms.order() {
        ProcessOrder::Linear => &[-1, 1],
        ProcessOrder::Quadratic => &[-1, 0, 1],
    };
    let mut settings: Vec<Vec<i8>> = vec![Vec::new()];
    for _ in terms.process() {
        if settings.len() * levels.len() * blends.len() > MOST_POINTS {
            return Err(too_many());
        }
        settings = settings
            .iter()
            .flat_map(|known| levels.iter().map(|level| [known.as_slice(), &[*level]].concat()))
            .collect();
    }
    if settings.len() * blends.len() > MOST_POINTS {
        return Err(too_many());
    }
    let at = |(kind, percents): &(PointKind, Vec<Exact>), coded: &Vec<i8>| Point {
        kind: *kind,
        percents: percents.clone(),
        coded: coded.clone(),
    };
    Ok(settings.iter().flat_map(|coded| blends.iter().map(|blend| at(blend, coded))).collect())
}

/// Every way to share steps out among so many, the first ones taking most first.
fn lattice(count: usize, steps: usize) -> Result<Vec<Vec<usize>>, Error> {
    let mut found: Vec<Vec<usize>> = vec![Vec::new()];
    for place in 0..count {
        let mut longer = Vec::new();
        for known in &found {
            let left = steps - known.iter().sum::<usize>();
            let least = if place + 1 == count { left } else { 0 };
            longer.extend((least..=left).rev().map(|own| [known.as_slice(), &[own]].concat()));
            if longer.len() > MOST_POINTS {
                return Err(too_many());
            }
        }
        found = longer;
    }
    Ok(found)
}

/// Every choice of some, small ones first.
fn subsets(count: usize) -> Result<Vec<Vec<usize>>, Error> {
    if count >= 15 {
        return Err(too_many());
    }
    let of = |bits: u32| (0..count).map(|place| (bits >> place & 1) as usize).collect::<Vec<usize>>();
    let mut bits: Vec<u32> = (1..1_u32 << count).collect();
    bits.sort_by_key(|bits| bits.count_ones());
    Ok(bits.into_iter().map(of).collect())
}
