//! What a stream gathers against the whole table.

use std::sync::Arc;

use tenside::brief::Direction;
use tenside::measure::{Basis, Measure, Scope};
use tenside::number::Exact;
use tenside::sweep::{Bins, Comparison, Condition, Level, Stream, Sweep, Table, Values};
use tenside::watch::Watch;

use super::support::{axis, bar, values};

fn sweep() -> Sweep {
    let brief = bar();
    let spaced = |from: i64, to: i64, count: usize| {
        Values::linspace(Exact::from(from), Exact::from(to), count, Exact::ratio(1, 1000)).unwrap()
    };
    let axes = vec![
        axis(&brief, "target.active-matter", spaced(40, 62, 23)),
        axis(&brief, "wash.scs-needles", spaced(2, 8, 61)),
        axis(&brief, "wash.capb-30", spaced(1, 6, 101)),
    ];
    let total = Measure::as_supplied().contributed_by(Scope::group("wash").unwrap());
    Sweep::new(&brief, axes).unwrap().with_measure(&total, &Basis::AsCharged).unwrap()
}

fn condition(column: &str, comparison: Comparison, value: &str) -> Condition {
    Condition { column: column.to_string(), comparison, value: value.parse().unwrap() }
}

fn column<'a>(table: &'a Table, name: &str) -> impl Fn(usize) -> f64 + 'a {
    let numbers = table.numbers(name).unwrap();
    move |row| numbers.get(row).unwrap()
}

fn kept(table: &Table, meets: impl Fn(usize) -> bool) -> Vec<usize> {
    (0..table.rows()).filter(|row| table.is_feasible(*row) && meets(*row)).collect()
}

#[test]
fn counts_best_front_histogram_and_summaries_are_those_of_the_table() {
    let sweep = sweep();
    let table = sweep.table().unwrap();
    let (water, cost) = (column(&table, "water"), column(&table, "cost"));
    let rows = kept(&table, |row| water(row) < 8.5 && cost(row) >= 3.75);
    assert!(rows.len() > 1000, "{}", rows.len());
    let stream = Stream::default()
        .only(condition("water", Comparison::Under, "8.5"))
        .only(condition("cost", Comparison::AtLeast, "3.75"))
        .best(25, "cost", Direction::Maximise)
        .pareto(&[("water", Direction::Minimise), ("cost", Direction::Minimise)])
        .histogram("water", Bins::new(2.0, 7.5, 11).unwrap())
        .summary("cost");
    let seen = sweep.stream(&stream).unwrap();
    assert_eq!((seen.rows, seen.feasible, seen.kept), (sweep.rows(), table.feasible_rows() as u64, rows.len() as u64));
    assert_eq!(seen.columns, ["water", "cost"]);
    let mut ranked = rows.clone();
    ranked.sort_by(|left, right| cost(*right).total_cmp(&cost(*left)).then(left.cmp(right)));
    assert_eq!(seen.best.iter().map(|(row, _)| *row as usize).collect::<Vec<_>>(), ranked[..25]);
    assert!(seen.best.iter().all(|(row, values)| *values == [water(*row as usize), cost(*row as usize)]));
    // Sorted by water, then cost: on the front is whoever is cheaper than all before.
    let mut ranked = rows.clone();
    ranked.sort_by(|left, right| {
        water(*left).total_cmp(&water(*right)).then(cost(*left).total_cmp(&cost(*right))).then(left.cmp(right))
    });
    let mut cheapest = f64::INFINITY;
    let mut front = Vec::new();
    for row in ranked {
        if cost(row) < cheapest {
            cheapest = cost(row);
            front.push(row);
        }
    }
    assert!(front.len() > 5);
    assert_eq!(seen.front.iter().map(|(row, _)| *row as usize).collect::<Vec<_>>(), front);
    let histogram = &seen.histograms[0];
    assert_eq!(histogram.below + histogram.above + histogram.counts.iter().sum::<u64>(), seen.kept);
    let edges = histogram.bins.edges();
    assert_eq!(
        histogram.counts[3],
        rows.iter().filter(|row| water(**row) >= edges[3] && water(**row) < edges[4]).count() as u64
    );
    for summary in &seen.summaries[0] {
        for (place, found) in summary.places.iter().enumerate() {
            let here: Vec<f64> = rows
                .iter()
                .filter(|row| sweep.places(**row as u64)[summary.axis] == place)
                .map(|row| cost(*row))
                .collect();
            assert_eq!(found.rows, here.len() as u64);
            assert_eq!(found.least(), here.iter().copied().reduce(f64::min));
            assert_eq!(found.greatest(), here.iter().copied().reduce(f64::max));
            let mean = here.iter().sum::<f64>() / here.len() as f64;
            assert!(found.mean().is_none_or(|found| (found - mean).abs() < 1e-12 * mean));
        }
    }
}

#[test]
fn a_front_of_three_measures_is_that_of_comparing_every_pair() {
    let sweep = sweep();
    let table = sweep.table().unwrap();
    let names = ["water", "cost", "line.capb-30"];
    let stream = Stream::default().pareto(&[
        (names[0], Direction::Minimise),
        (names[1], Direction::Minimise),
        (names[2], Direction::Maximise),
    ]);
    let part = 0..20_000;
    let seen = sweep.stream_within(&stream, part.clone(), Level::best()).unwrap();
    let columns: Vec<_> = names.iter().map(|name| column(&table, name)).collect();
    let rows: Vec<usize> = part.map(|row| row as usize).filter(|row| table.is_feasible(*row)).collect();
    let keys: Vec<[f64; 3]> = rows.iter().map(|row| [columns[0](*row), columns[1](*row), -columns[2](*row)]).collect();
    let beaten = |place: usize| {
        (0..rows.len()).any(|other| {
            let as_good = keys[other].iter().zip(&keys[place]).all(|(one, other)| one <= other);
            other != place && as_good && (keys[other] != keys[place] || other < place)
        })
    };
    let mut front: Vec<u64> = (0..rows.len()).filter(|place| !beaten(*place)).map(|place| rows[place] as u64).collect();
    let mut found: Vec<u64> = seen.front.iter().map(|(row, _)| *row).collect();
    front.sort_unstable();
    found.sort_unstable();
    assert_eq!(found, front);
}

#[test]
fn comparisons_are_exact_at_the_value_itself() {
    let brief = bar();
    // Panthenol at just these percentages.
    let sweep = Sweep::new(&brief, vec![axis(&brief, "panthenol", values(&["0.9999", "1", "1.0001"]))]).unwrap();
    let count =
        |comparison| sweep.stream(&Stream::default().only(condition("line.panthenol", comparison, "1"))).unwrap().kept;
    assert_eq!([Comparison::Under, Comparison::AtMost, Comparison::Over, Comparison::AtLeast].map(count), [1, 2, 1, 2]);
    let third = |comparison| {
        sweep.stream(&Stream::default().only(condition("line.panthenol", comparison, "20001/20000"))).unwrap().kept
    };
    assert_eq!([Comparison::Under, Comparison::AtMost, Comparison::Over, Comparison::AtLeast].map(third), [2, 2, 1, 1]);
}

/// A cell is the float nearest to a value that is no float itself.
#[test]
fn a_cell_is_at_least_and_at_most_what_it_shows() {
    let brief = bar();
    let sweep = Sweep::new(&brief, vec![axis(&brief, "wash.capb-30", values(&["0.8", "0.9", "1"]))]).unwrap();
    let table = sweep.table().unwrap();
    let kaolin = column(&table, "line.kaolin");
    for row in 0..3 {
        let shown = kaolin(row);
        let counts = [Comparison::Under, Comparison::AtMost, Comparison::Over, Comparison::AtLeast].map(|comparison| {
            let condition = condition("line.kaolin", comparison, &shown.to_string());
            sweep.stream(&Stream::default().only(condition)).unwrap().kept as usize
        });
        let among = |holds: &dyn Fn(f64) -> bool| (0..3).filter(|other| holds(kaolin(*other))).count();
        let expected =
            [among(&|it| it < shown), among(&|it| it <= shown), among(&|it| it > shown), among(&|it| it >= shown)];
        assert_eq!(counts, expected, "{shown}");
    }
}

#[test]
fn threads_levels_and_solved_sweeps() {
    let sweep = sweep();
    let stream = Stream::default()
        .best(7, "water", Direction::Minimise)
        .pareto(&[("water", Direction::Minimise), ("cost", Direction::Minimise)])
        .summary("cost");
    let on = |threads: usize, level: Level| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| sweep.stream_within(&stream, 0..sweep.rows(), level)).unwrap()
    };
    let first = on(1, Level::Portable);
    for level in Level::available() {
        assert_eq!(on(1, level), first);
        assert_eq!(on(2, level), first);
    }
    let brief = bar().drop_line("cetyl-alcohol").unwrap().between("cetyl-alcohol", 3, 6).unwrap();
    let solved = Sweep::new(&brief, vec![axis(&brief, "target.active-matter", super::support::whole(40, 63))]).unwrap();
    let table = solved.table().unwrap();
    let seen = solved
        .stream(&Stream::default().only(condition("water", Comparison::AtMost, "7")).best(
            2,
            "objective",
            Direction::Minimise,
        ))
        .unwrap();
    let water = table.numbers("water").unwrap();
    assert_eq!(seen.kept as usize, kept(&table, |row| water.get(row).unwrap() <= 7.0).len());
    assert_eq!(seen.best.len(), 2);
}

#[test]
fn what_cannot_be_streamed_is_refused_and_a_watcher_stops_it() {
    let sweep = sweep();
    let refused = |stream: Stream| sweep.stream(&stream).unwrap_err().to_string();
    assert!(
        refused(Stream::default().best(1, "feasible", Direction::Minimise))
            .contains("lines, measures and the objective only")
    );
    assert!(refused(Stream::default().best(0, "cost", Direction::Minimise)).contains("1 to 1000000 rows"));
    assert!(
        refused(Stream::default().pareto(&[("cost", Direction::Minimise), ("cost", Direction::Maximise)]))
            .contains("twice")
    );
    assert!(refused(Stream::default().summary("csot")).contains("did you mean"));
    struct Never;
    impl Watch for Never {
        fn go_on(&self, _rows: u64) -> bool {
            false
        }
    }
    let stopped = sweep.clone().watched_by(Arc::new(Never));
    assert!(stopped.stream(&Stream::default()).unwrap_err().is_stopped());
    assert!(stopped.table().unwrap_err().is_stopped());
    assert!(stopped.pick(&[3], Level::best()).unwrap_err().is_stopped());
    assert!(stopped.brief().samples(10_000, 1).unwrap_err().is_stopped());
    assert!(stopped.brief().corners(10).unwrap_err().is_stopped());
}

fn everything() -> Stream {
    Stream::default()
        .only(condition("water", Comparison::Under, "8.5"))
        .best(25, "cost", Direction::Minimise)
        .pareto(&[("water", Direction::Minimise), ("cost", Direction::Minimise)])
        .histogram("water", Bins::new(2.0, 7.5, 11).unwrap())
        .summary("cost")
        .summary("water")
}

#[test]
fn parts_of_a_sweep_join_to_what_one_machine_gathers() {
    let free = bar().drop_line("cetyl-alcohol").unwrap().between("cetyl-alcohol", 3, 6).unwrap();
    let spaced = |from: i64, to: i64, count: usize| {
        Values::linspace(Exact::from(from), Exact::from(to), count, Exact::ratio(1, 1000)).unwrap()
    };
    let solved = Sweep::new(
        &free,
        vec![axis(&free, "wash.capb-30", spaced(1, 6, 17)), axis(&free, "target.active-matter", spaced(40, 62, 23))],
    )
    .unwrap();
    // One key, two and three are joined in ways of their own.
    let three = [("water", Direction::Minimise), ("cost", Direction::Minimise), ("line.capb-30", Direction::Maximise)];
    for sweep in [sweep(), solved] {
        for stream in
            [everything(), Stream::default().pareto(&three[..1]), Stream::default().pareto(&three), Stream::default()]
        {
            let whole = sweep.stream(&stream).unwrap();
            for count in [1, 2, 7, 64] {
                let ranges = sweep.parts(count).unwrap();
                assert_eq!(
                    (ranges.len() as u64, ranges[0].start, ranges[ranges.len() - 1].end),
                    (count, 0, sweep.rows())
                );
                let sizes: Vec<u64> = ranges.iter().map(|rows| rows.end - rows.start).collect();
                assert!(sizes.iter().max().unwrap() - sizes.iter().min().unwrap() <= 1);
                let mut parts: Vec<_> =
                    ranges.into_iter().map(|rows| sweep.stream_part(&stream, rows, Level::Portable).unwrap()).collect();
                parts.reverse();
                assert_eq!(sweep.join_parts(&stream, parts).unwrap(), whole, "{count} parts");
            }
        }
    }
}

#[test]
fn parts_that_do_not_cover_the_sweep_once_are_refused() {
    let sweep = sweep();
    let stream = everything();
    let part = |rows| sweep.stream_part(&stream, rows, Level::best()).unwrap();
    let (first, second, all) = (part(0..1000), part(2000..sweep.rows()), part(0..sweep.rows()));
    let refused = |parts: Vec<_>| sweep.join_parts(&stream, parts).unwrap_err().to_string();
    assert!(
        refused(vec![second.clone(), first.clone()])
            .contains("some rows are in no part (found rows 1000 to before 2000")
    );
    assert!(refused(vec![all.clone(), second]).contains("two parts have (found rows 2000 to before"));
    assert!(refused(vec![first]).contains("some rows are in no part (found rows 1000 to before"));
    assert!(refused(Vec::new()).contains("rows 0 to before"));
    let message = sweep.join_parts(&Stream::default(), vec![all.clone()]).unwrap_err().to_string();
    assert!(message.contains("another query"), "{message}");
    let other = Stream::default().histogram("water", Bins::new(2.0, 7.5, 12).unwrap());
    assert!(sweep.join_parts(&other, vec![all.clone()]).is_err());
    // Its rows are in one part, and not in the sweep.
    let shorter = Sweep::new(&bar(), Vec::new()).unwrap();
    let message = shorter.join_parts(&stream, vec![all]).unwrap_err().to_string();
    assert!(message.contains("the sweep has no such row"), "{message}");
    assert!(sweep.stream_part(&stream, 5..sweep.rows() + 1, Level::best()).is_err());
    assert!(sweep.parts(0).is_err() && sweep.parts(1_000_001).is_err());
    // Fewer rows than parts.
    let alone = Sweep::new(&bar(), Vec::new()).unwrap().parts(9).unwrap();
    assert_eq!((alone.len(), alone[0].clone()), (1, 0..1));
}
