//! From a brief and what is asked to a design.

use super::approximate::approximate;
use super::basis::{self, Aliased};
use super::certificate::{Certificate, Shifted, Sized, information_of, turning, whitened};
use super::exchange::{Criterion, Exchange};
use super::plots::{Plots, apart};
use super::points::{self, DesignKind, Point};
use super::rows::Rows;
use super::space::{Space, within};
use super::{Design, DesignRequest, DesignedRun, PointKind, blocks};
use crate::brief::Brief;
use crate::document::Named;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::number::{Exact, Random};
use crate::solve::Walk;
use crate::trial::terms::Terms;
use crate::trial::whole_plots::WholePlots;
use crate::watch::{Halt, Watched};

/// Mixtures over which the variance of an I-optimal design is averaged, and the seed they are drawn by.
const AVERAGED: usize = 2048;
const AVERAGED_SEED: u64 = 1;
/// The most bars of a design, replicates counted.
const MOST_BARS: usize = 2000;
/// The most values that the candidates' rows may have together.
const MOST_VALUES: usize = 2_000_000;

impl Brief {
    /// A design of trials inside what the brief allows, whatever its objective: formulas to press, chosen so that a
    /// model of what is measured on them is known as well as can be.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::trial::{Blend, DesignKind, DesignRequest};
    /// let brief = Brief::new("Bar", &Catalogue::starter())?
    ///     .between("sci-powder", 40, 70)?
    ///     .between("cetyl-alcohol", 3, 12)?
    ///     .between("glycerin-99-5", 0, 5)?
    ///     .qs("kaolin")?;
    /// let design = brief.design(&DesignRequest::new(DesignKind::DOptimal, Blend::Linear, 7).runs(8)?)?;
    /// assert_eq!((design.runs().len(), design.terms().len()), (8, 4));
    /// assert!(design.efficiency() > 0.99 && design.bound_holds_everywhere());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A brief that cannot be asked, allows no formula ([`Error::is_unanswerable`], with its conflict), or one alone;
    /// components that are bound by more than their sum, with what binds them; runs that are not stated where they are
    /// needed or stated where the kind says them; fewer runs than terms, and points that cannot tell terms apart, with
    /// the terms; a made formula without a line that is varied; more vertices, faces or candidates than a design goes
    /// through.
    pub fn design(&self, request: &DesignRequest) -> Result<Design, Error> {
        check(request)?;
        let (narrowed, base) = match &request.within {
            Some(split) => within(self, split).map(|(narrowed, base)| (narrowed, Some(base)))?,
            None => (self.clone(), None),
        };
        let space = Space::new(narrowed, request.components.as_deref())?;
        let components = space.fractions.components.iter().map(|component| component.name.as_str());
        let mut terms = Terms::new(components, request.blend)?.with_process(
            request.process.iter().cloned(),
            request.order,
            request.crossing,
        )?;
        if let Some(ratio) = &request.whole_plot_ratio {
            terms = terms.with_whole_plots(ratio)?;
        }
        let mut random = Random::new(request.seed);
        let asked = Asked::new(&space, &terms, request)?;
        let chosen = asked.chosen(request, &mut random)?;
        asked.design(self, base, request, &chosen, &mut random)
    }
}

fn check(request: &DesignRequest) -> Result<(), Error> {
    let mut faults = Vec::new();
    let is_chosen = matches!(request.kind, DesignKind::DOptimal | DesignKind::IOptimal);
    if is_chosen && request.runs.is_none() {
        faults.push(
            Fault::new(FaultKind::Missing, "the number of runs is not stated")
                .at(request.kind.to_string())
                .remedy("say how many bars you will press"),
        );
    }
    if !is_chosen && request.runs.is_some() {
        let fault = Fault::new(FaultKind::Contradiction, "the kind of design says itself how many runs it has")
            .at(request.kind.to_string());
        faults.push(fault.remedy("leave `runs` out, or take d-optimal"));
    }
    for (place, made) in
        request.made.iter().enumerate().filter(|(_, made)| made.settings.len() != request.process.len())
    {
        let fault = Fault::new(FaultKind::OutOfRange, "a made bar has one setting for each process variable")
            .at(format!("made bar {}", place + 1));
        faults.push(fault.value(made.settings.len()).allowed(request.process.len().to_string()));
    }
    if request.whole_plot_ratio.is_some() && request.process.is_empty() {
        faults.push(
            Fault::new(FaultKind::Missing, "a split-plot order without process variables")
                .remedy("name the process variables"),
        );
    }
    Error::check(faults, ())
}

/// Rows of a model with their sizes.
#[derive(Clone)]
struct Both {
    rows: Rows,
    sizes: Rows,
}

impl Both {
    fn new(width: usize) -> Self {
        Both { rows: Rows::new(width), sizes: Rows::new(width) }
    }

    /// `sizes` of the coded settings are those that they are worked out of.
    fn push(&mut self, terms: &Terms, parts: &[f64], coded: &[f64], sizes: &[f64]) {
        self.rows.push(terms.values(parts, coded));
        self.sizes.push(terms.sizes(parts, sizes));
    }

    fn of(space: &Space, terms: &Terms, points: &[Point]) -> Self {
        let mut both = Both::new(terms.len());
        for point in points {
            let coded: Vec<f64> = point.coded.iter().map(|level| f64::from(*level)).collect();
            both.push(terms, &space.parts(&point.percents), &coded, &coded);
        }
        both
    }

    fn sized(&self) -> Sized<'_> {
        Sized { rows: &self.rows, sizes: &self.sizes }
    }
}

/// The question in numbers.
struct Asked<'a> {
    space: &'a Space,
    terms: &'a Terms,
    candidates: Vec<Point>,
    /// The first of them that are the design's own, where the kind says them.
    own: usize,
    of_candidates: Both,
    of_made: Both,
    averaged: Option<Both>,
    plots: Option<Plots>,
}

impl<'a> Asked<'a> {
    fn new(space: &'a Space, terms: &'a Terms, request: &DesignRequest) -> Result<Self, Error> {
        let mut candidates = match request.kind {
            DesignKind::SimplexLattice | DesignKind::SimplexCentroid | DesignKind::Axial => {
                points::of_kind(space, terms, request.kind, request.steps)?
            }
            DesignKind::ExtremeVertices => points::candidates(space, terms, request.highest_face())?,
            DesignKind::DOptimal | DesignKind::IOptimal => Vec::new(),
        };
        let own = candidates.len();
        if request.kind != DesignKind::ExtremeVertices {
            let known: std::collections::HashSet<(Vec<Exact>, Vec<i8>)> =
                candidates.iter().map(|point| (point.percents.clone(), point.coded.clone())).collect();
            let more = points::candidates(space, terms, request.highest_face())?;
            candidates.extend(
                more.into_iter().filter(|point| !known.contains(&(point.percents.clone(), point.coded.clone()))),
            );
        }
        let plots = terms
            .whole_plot_ratio()
            .map(|ratio| Plots::new(&candidates, request.blocks, ratio.to_f64(), request.replicates));
        let width = terms.len() + plots.as_ref().map_or(0, Plots::count);
        let rows = candidates.len() * plots.as_ref().map_or(1, Plots::blocks);
        if rows * width > MOST_VALUES {
            return Err(Fault::new(FaultKind::OutOfRange, "too many candidates for so many terms")
                .value(format!("{rows} candidates, {width} terms and whole plots"))
                .allowed(format!("{} candidates", MOST_VALUES / width))
                .remedy("take fewer centroids, components or process variables, in whole plots fewer blocks")
                .into());
        }
        let of_candidates = Both::of(space, terms, &candidates);
        let mut of_made = Both::new(terms.len());
        for (place, made) in request.made.iter().enumerate() {
            let parts = space
                .fractions
                .of_formula(&made.formula)
                .map_err(|error| error.within(&format!("made bar {}", place + 1)))?;
            let coded: Vec<f64> = terms
                .process()
                .iter()
                .zip(&made.settings)
                .map(|(variable, setting)| variable.coded(setting.to_f64()))
                .collect();
            let size = |(variable, setting): (&crate::trial::ProcessVariable, &Exact)| {
                let (low, high) = (variable.low().to_f64(), variable.high().to_f64());
                (2.0 * setting.to_f64().abs() + low.abs() + high.abs()) / (high - low)
            };
            let sizes: Vec<f64> = terms.process().iter().zip(&made.settings).map(size).collect();
            of_made.push(terms, &parts, &coded, &sizes);
        }
        let averaged = match request.kind {
            DesignKind::IOptimal => Some(averaged(space, terms, space.brief.watched())?),
            _ => None,
        };
        Ok(Asked { space, terms, candidates, own, of_candidates, of_made, averaged, plots })
    }

    /// The places of the chosen candidates with the certificate.
    fn chosen(&self, request: &DesignRequest, random: &mut Random) -> Result<(Vec<usize>, Certificate), Error> {
        let watched = self.space.brief.watched();
        let basis = basis::basis(&self.of_candidates.rows).map_err(|aliased| self.cannot_tell(&aliased))?;
        let scale = (request.replicates as f64).sqrt();
        let mut turned = basis::turned(&self.of_candidates.rows, &(&basis * scale));
        let of_made = self.made_apart();
        let mut made = information_of(&basis::turned(&of_made.rows, &basis));
        let mut criterion = match &self.averaged {
            Some(averaged) => Criterion::Average(
                information_of(&basis::turned(&averaged.rows, &basis)) / averaged.rows.count() as f64,
            ),
            None => Criterion::Determinant(self.terms.len()),
        };
        if let Some(plots) = &self.plots {
            turned = plots.beside(&turned);
            made = plots.around(&made, 1.0 / plots.ratio);
            if let Criterion::Average(moments) = &mut criterion {
                *moments = plots.around(moments, 0.0);
            }
        }
        let runs = request.runs.unwrap_or(self.own);
        if runs * request.replicates > MOST_BARS {
            return Err(Fault::new(FaultKind::OutOfRange, "more bars than a design lists")
                .value(format!("{runs} runs, each {} times", request.replicates))
                .allowed(format!("up to {MOST_BARS} bars"))
                .into());
        }
        let plots = self.plots.as_ref();
        let exchange = Exchange { candidates: &turned, made: &made, criterion: &criterion, runs, plots };
        if runs + self.of_made.rows.count() < self.terms.len() {
            return Err(self.too_few(runs, &exchange.start(random)));
        }
        let chosen = match request.runs {
            Some(_) => exchange.best(request.starts, random, || watched.go_on(0)),
            None => Some((0..self.own).collect()),
        };
        watched.check()?;
        let singular = || -> Error {
            let mut rows = self.of_made.rows.clone();
            let own = if request.runs.is_some() { self.candidates.len() } else { self.own };
            (0..own).for_each(|place| rows.push(self.of_candidates.rows.row(place).iter().copied()));
            match basis::basis(&rows) {
                Err(aliased) => self.cannot_tell(&aliased),
                Ok(_) => Fault::new(FaultKind::Contradiction, "no design was found that determines every term")
                    .remedy("ask for more runs or starts")
                    .into(),
            }
        };
        let chosen = chosen.ok_or_else(singular)?;
        let best = approximate(&turned, &made, &criterion, runs, &chosen, || watched.go_on(0));
        watched.check()?;
        let (own, shifts) = best.map(|best| apart(&best, self.terms.len())).ok_or_else(singular)?;
        let z = turning(&own, &basis).ok_or_else(singular)?;
        // From the coordinates of the basis into those of `Z f`.
        let shifts = own.cholesky().and_then(|factor| factor.l_dirty().solve_lower_triangular(&shifts));
        let shifted = plots.zip(shifts).map(|(plots, shifts)| Shifted { plots, shifts });
        let averaged = self.averaged.as_ref().map(Both::sized);
        let certificate = Certificate::new(
            z,
            &self.of_candidates.sized(),
            &of_made.sized(),
            runs * request.replicates,
            averaged.as_ref(),
            shifted.as_ref(),
        );
        Ok((chosen, certificate))
    }

    /// The bars made already, in whole plots each in one of its own.
    fn made_apart(&self) -> Both {
        let Some(plots) = &self.plots else { return self.of_made.clone() };
        let apart = WholePlots::new(0..self.of_made.rows.count(), plots.ratio);
        let (rows, sizes) = whitened(&self.of_made.sized(), &apart);
        Both { rows, sizes }
    }

    fn told(&self, aliased: &[Aliased]) -> String {
        let names = self.terms.names();
        let one = |aliased: &Aliased| {
            let with: Vec<&str> = aliased.with.iter().map(|term| names[*term].as_str()).collect();
            if with.is_empty() {
                format!("{} is 0 everywhere", names[aliased.term])
            } else {
                format!("{} with {}", names[aliased.term], with.join(", "))
            }
        };
        aliased.iter().map(one).collect::<Vec<_>>().join("; ")
    }

    fn cannot_tell(&self, aliased: &[Aliased]) -> Error {
        Fault::new(FaultKind::Contradiction, "the points cannot tell these terms apart (they are aliased)")
            .value(self.told(aliased))
            .remedy("take a lower model, a lattice of more steps, or centroids of higher faces (`centroids`)")
            .into()
    }

    fn too_few(&self, runs: usize, chosen: &[usize]) -> Error {
        let mut rows = self.of_made.rows.clone();
        let count = self.candidates.len();
        chosen.iter().for_each(|place| rows.push(self.of_candidates.rows.row(*place % count).iter().copied()));
        let told = basis::basis(&rows).err().map(|aliased| self.told(&aliased)).unwrap_or_default();
        let with_made = if self.of_made.rows.count() > 0 {
            format!(" beside {} made", self.of_made.rows.count())
        } else {
            String::new()
        };
        Fault::new(FaultKind::OutOfRange, "fewer runs than the model has terms, so that some are aliased")
            .value(format!("{runs} runs{with_made}, {} terms; aliased: {told}", self.terms.len()))
            .allowed(format!(
                "at least {} runs; some more show how far bars differ by chance",
                self.terms.len() - self.of_made.rows.count()
            ))
            .remedy("press more bars, or take a lower model")
            .into()
    }

    fn design(
        &self,
        brief: &Brief,
        base: Option<Formula>,
        request: &DesignRequest,
        (chosen, certificate): &(Vec<usize>, Certificate),
        random: &mut Random,
    ) -> Result<Design, Error> {
        let count = self.candidates.len();
        let each: Vec<usize> =
            chosen.iter().flat_map(|place| std::iter::repeat_n(*place, request.replicates)).collect();
        let runs: Vec<usize> = each.iter().map(|place| place % count).collect();
        let mut both = Both::new(self.terms.len());
        for place in &runs {
            both.rows.push(self.of_candidates.rows.row(*place).iter().copied());
            both.sizes.push(self.of_candidates.sizes.row(*place).iter().copied());
        }
        let even = basis::basis(&self.of_candidates.rows).map_err(|aliased| self.cannot_tell(&aliased))?;
        let mut turned = basis::turned(&both.rows, &even);
        let mut block = match (&self.plots, request.runs) {
            // Chosen with their blocks.
            (Some(_), Some(_)) => each.iter().map(|place| place / count).collect(),
            _ => blocks::assign(&turned, request.blocks, random, || self.space.brief.watched().go_on(0)),
        };
        self.space.brief.watched().check()?;
        let of_run = |run: usize| (block[run], self.candidates[runs[run]].coded.as_slice());
        let mut sized = both.sized();
        let apart;
        if let Some(plots) = &self.plots {
            apart = whitened(&sized, &WholePlots::new((0..runs.len()).map(of_run), plots.ratio));
            sized = Sized { rows: &apart.0, sizes: &apart.1 };
        }
        let efficiency = certificate.efficiency(&sized).ok_or_else(|| -> Error {
            let fault = Fault::new(
                FaultKind::Contradiction,
                "the runs determine the terms too badly for their efficiency to be told",
            );
            fault.remedy("give the lines wider ranges, take a lower model or more runs").into()
        })?;
        let order = order(&runs, &block, &self.candidates, request, random);
        let mut formulas: Vec<Option<Formula>> = vec![None; self.candidates.len()];
        let mut listed = Vec::with_capacity(runs.len());
        for (run, whole_plot) in order {
            self.space.brief.watched().check()?;
            let point = &self.candidates[runs[run]];
            let formula = match &formulas[runs[run]] {
                Some(formula) => formula.clone(),
                None => self.formula(point, base.as_ref())?,
            };
            formulas[runs[run]] = Some(formula.clone());
            let number = listed.len() + 1;
            let title: String = brief.title().chars().take(180).collect();
            listed.push(DesignedRun {
                number,
                block: block[run] + 1,
                whole_plot,
                kind: point.kind,
                point: point.percents.clone(),
                settings: self
                    .terms
                    .process()
                    .iter()
                    .zip(&point.coded)
                    .map(|(variable, level)| variable.setting(i32::from(*level)))
                    .collect::<Result<_, _>>()?,
                formula: formula.with_title(&format!("{title}, run {number}"))?,
            });
        }
        // Bars made already are a block of their own.
        let of_made = basis::turned(&self.of_made.rows, &even);
        of_made.iter().for_each(|row| turned.push(row.iter().copied()));
        let whole_plots = self.plots.as_ref().map(|plots| {
            let of_made = (runs.len()..turned.count()).map(|run| (run, [].as_slice()));
            WholePlots::new((0..runs.len()).map(of_run).chain(of_made), plots.ratio)
        });
        block.resize(turned.count(), request.blocks);
        let block_efficiency = (request.blocks > 1).then(|| blocks::efficiency(&turned, &block, whole_plots.as_ref()));
        let counted = |kind: PointKind| (kind, self.candidates.iter().filter(|point| point.kind == kind).count());
        let mut design = Design {
            brief: brief.clone(),
            request: request.clone(),
            terms: self.terms.clone(),
            fractions: self.space.fractions.clone(),
            certificate: certificate.clone(),
            candidates: PointKind::ALL.iter().map(|kind| counted(*kind)).filter(|(_, count)| *count > 0).collect(),
            runs: listed,
            efficiency,
            efficiency_as_rounded: None,
            block_efficiency,
        };
        design.efficiency_as_rounded = design.efficiency_of(&design.formulas())?;
        Ok(design)
    }

    fn formula(&self, point: &Point, base: Option<&Formula>) -> Result<Formula, Error> {
        let placed = self.space.brief.formula_at(&point.percents)?;
        let Some(base) = base else { return Ok(placed) };
        // What was held is held for this design alone: the lines are the answer's, with other percentages.
        let lines =
            base.lines().iter().zip(placed.lines()).map(|(line, placed)| line.clone().with_percent(placed.percent()));
        Ok(Formula::new(base.title(), lines.collect())?.with_phases(base.phases())?.with_prices(base.prices().cloned()))
    }
}

/// Runs in the order in which they are made, with their whole plots: block after block, each in an order drawn by
/// chance.
fn order(
    runs: &[usize],
    block: &[usize],
    candidates: &[Point],
    request: &DesignRequest,
    random: &mut Random,
) -> Vec<(usize, Option<usize>)> {
    let mut order = Vec::with_capacity(runs.len());
    let mut whole_plots = 0;
    for one in 0..request.blocks {
        let mut inside: Vec<usize> = (0..runs.len()).filter(|run| block[*run] == one).collect();
        random.shuffle(&mut inside);
        if request.whole_plot_ratio.is_none() {
            order.extend(inside.into_iter().map(|run| (run, None)));
            continue;
        }
        // In the order in which each combination of settings first came up.
        let mut settings: Vec<&[i8]> = Vec::new();
        for run in &inside {
            let coded = candidates[runs[*run]].coded.as_slice();
            if !settings.contains(&coded) {
                settings.push(coded);
            }
        }
        for coded in settings {
            whole_plots += 1;
            order.extend(
                inside.iter().filter(|run| candidates[runs[**run]].coded == coded).map(|run| (*run, Some(whole_plots))),
            );
        }
    }
    order
}

/// Mixtures drawn evenly from the region, at settings drawn evenly from their ranges.
fn averaged(space: &Space, terms: &Terms, watched: &Watched) -> Result<Both, Error> {
    let mut walk = Walk::new(&space.region, AVERAGED_SEED);
    let mut random = Random::new(AVERAGED_SEED);
    let mut both = Both::new(terms.len());
    for sample in 0..AVERAGED {
        watched.check()?;
        for _ in 0..if sample == 0 { walk.burn_in() } else { walk.thinning() } {
            walk.step();
        }
        let percents: Vec<f64> = walk.percents().collect();
        let coded: Vec<f64> = terms.process().iter().map(|_| 2.0 * random.unit() - 1.0).collect();
        both.push(terms, &space.parts_of_floats(&percents), &coded, &coded);
    }
    Ok(both)
}
