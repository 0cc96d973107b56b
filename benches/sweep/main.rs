//! What-if sweeps: a million determined formulas kept, a thousand million streamed, beside the time that storing the
//! numbers alone takes.
//!
//! `cargo xtask bench sweep` runs this, then the same table through the Python face beside numpy and polars. The goals
//! it prints against are ratios taken in one run; machines differ.

mod case;

use std::hint::black_box;
use std::time::Instant;

use case::{bar, million, thousand_million};
use tenside::brief::{Brief, Direction};
use tenside::sweep::{Cells, Level, Spare, Stream};

/// The least of some rounds, in milliseconds.
fn milliseconds<T>(rounds: usize, mut call: impl FnMut() -> T) -> f64 {
    let mut least = f64::INFINITY;
    for _ in 0..rounds {
        let start = Instant::now();
        black_box(call());
        least = least.min(start.elapsed().as_secs_f64() * 1e3);
    }
    least
}

fn on<T: Send>(threads: usize, work: impl FnOnce() -> T + Send) -> T {
    rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool of threads").install(work)
}

fn main() {
    // `-- optimal`, `-- table` or `-- stream` alone.
    let words: Vec<String> = std::env::args().collect();
    let parts = ["optimal", "table", "stream"];
    let wanted = |word: &str| {
        words.iter().any(|known| known == word) || !words.iter().any(|known| parts.contains(&known.as_str()))
    };
    if let Some(place) = words.iter().position(|word| word == "again") {
        again(words.get(place + 1), words.get(place + 2));
        return;
    }
    let brief = bar();
    if words.iter().any(|word| word == "dispatch") {
        dispatch(&brief);
        return;
    }
    if wanted("optimal") {
        optimal();
    }
    if wanted("table") {
        table(&brief);
    }
    if wanted("stream") {
        stream(&brief);
    }
}

/// `-- again COUNT TIMES`: the same table over and over on one thread, for a profiler.
fn again(count: Option<&String>, times: Option<&String>) {
    let number = |word: Option<&String>, usual: usize| word.and_then(|word| word.parse().ok()).unwrap_or(usual);
    let sweep = case::optimal(&case::cream_bar(), number(count, 1000));
    let mut spare = Spare::default();
    let mut least = f64::INFINITY;
    on(1, || {
        for _ in 0..number(times, 100) {
            let start = Instant::now();
            let table = sweep.table_over(8, Level::best(), &mut spare).expect("it fits");
            least = least.min(start.elapsed().as_secs_f64() * 1e3);
            table.leave(&mut spare);
        }
    });
    println!("{} rows: {least:.2} ms", sweep.rows());
}

/// `-- dispatch`: a name, milliseconds on one thread and a hash of all cells, for builds to be compared.
fn dispatch(brief: &Brief) {
    for (name, sweep) in [("determined", million(brief)), ("optimal", case::optimal(&case::cream_bar(), 1000))] {
        let mut spare = Spare::default();
        let mut hash = 0;
        let time = on(1, || {
            milliseconds(9, || {
                let table = sweep.table_over(8, Level::best(), &mut spare).expect("it fits");
                if hash == 0 {
                    hash = hashed(&table);
                }
                table.leave(&mut spare);
            })
        });
        println!("{name} {time:.3} {hash:016x}");
    }
}

/// The hash of Fowler, Noll and Vo (from memory), a word at a time.
fn hashed(table: &tenside::sweep::Table) -> u64 {
    let step = |hash: u64, word: u64| (hash ^ word).wrapping_mul(0x0000_0100_0000_01b3);
    let mut hash = table.feasible_bits().iter().fold(0xcbf2_9ce4_8422_2325, |hash, bits| step(hash, u64::from(*bits)));
    for cells in table.cells() {
        hash = match cells {
            Cells::Numbers(numbers, _) => {
                numbers.as_slice().iter().fold(hash, |hash, number| step(hash, number.to_bits()))
            }
            Cells::Codes(codes, _) => codes.as_slice().iter().fold(hash, |hash, code| step(hash, *code)),
            Cells::Words(..) | Cells::Feasible => hash,
        };
    }
    hash
}

fn optimal() {
    let brief = case::cream_bar();
    let sweep = case::optimal(&brief, 1000);
    println!("{} optimal formulas of {} columns: {}", sweep.rows(), sweep.columns().len(), sweep.names().join(", "));
    let alone = sweep.clone().with_columns(&["feasible"]).expect("the name is the sweep's");
    let stored = on(1, || touched_store(&sweep));
    println!("  storing the numbers alone into memory touched before, 1 thread: {stored:.1} ms");
    for threads in [1, 2] {
        let mut spare = Spare::default();
        let mut feasible = 0;
        let time = on(threads, || {
            milliseconds(9, || {
                let table = sweep.table_over(8, Level::best(), &mut spare).expect("it fits");
                feasible = table.feasible_rows();
                table.leave(&mut spare);
            })
        });
        let proofs = on(threads, || milliseconds(9, || alone.table()));
        println!(
            "  {threads} thread(s): {time:.1} ms, {:.2} x storing alone, {feasible} of them feasible; the proofs \
             alone {proofs:.1} ms, {:.0} % (aim 25)",
            time / stored,
            proofs / time * 100.0
        );
    }
    for level in Level::available() {
        let time = on(1, || milliseconds(5, || sweep.table_within(8, level)));
        println!("  fresh memory, 1 thread, {level:?}: {time:.1} ms");
    }
    println!("\nhow time grows, on two threads");
    for count in [32, 100, 316, 1000, 3162] {
        let sweep = case::optimal(&brief, count);
        let rounds = if count < 3000 { 3 } else { 1 };
        let time = on(2, || milliseconds(rounds, || sweep.table()));
        println!("  {:>12} rows {time:>10.2} ms", sweep.rows());
    }
    let stream = Stream::default()
        .best(10, "cost", Direction::Minimise)
        .pareto(&[("water", Direction::Minimise), ("cost", Direction::Minimise)]);
    let sweep = case::optimal(&brief, 10_000);
    let start = Instant::now();
    let seen = on(2, || sweep.stream_within(&stream, 0..sweep.rows(), Level::best())).expect("columns are there");
    println!(
        "  {:>12} rows streamed {:>10.2} ms; front of {}",
        seen.rows,
        start.elapsed().as_secs_f64() * 1e3,
        seen.front.len()
    );
}

fn table(brief: &Brief) {
    let sweep = million(brief);
    println!("{} determined formulas of {} columns: {}", sweep.rows(), sweep.columns().len(), sweep.names().join(", "));
    for threads in [1, 2] {
        let (fresh, touched) = on(threads, || (milliseconds(7, || fresh_store(&sweep)), touched_store(&sweep)));
        println!(
            "  storing the numbers alone, {threads} thread(s): memory touched before {touched:.1} ms, fresh memory \
             {fresh:.1} ms"
        );
        for level in Level::available() {
            let time = on(threads, || milliseconds(7, || sweep.table_within(8, level)));
            println!(
                "  table, {threads} thread(s), {level:?}: {time:.1} ms, {:.2} x storing into fresh memory",
                time / fresh
            );
        }
    }
    for threads in [1, 2] {
        let (touched, time) = on(threads, || {
            let mut spare = Spare::default();
            let again = |spare: &mut Spare| {
                let table = sweep.table_over(8, Level::best(), spare).expect("it fits");
                table.leave(spare);
            };
            again(&mut spare);
            (touched_store(&sweep), milliseconds(15, || again(&mut spare)))
        });
        println!(
            "  table over the last one's memory, {threads} thread(s): {time:.1} ms, {:.2} x storing into memory \
             touched before",
            time / touched
        );
    }
    println!("\nhow time grows, table kept, two threads");
    for count in [32, 100, 316, 1000, 3162, 10_000] {
        let sweep = case::square(brief, count);
        // Twelve columns of 10^8 rows are more than a small machine keeps.
        let sweep = if count < 10_000 {
            sweep
        } else {
            sweep.with_columns(&["line.kaolin", "cost", "feasible"]).expect("the names are the sweep's")
        };
        let rounds = if count < 3000 { 3 } else { 1 };
        let time = on(2, || milliseconds(rounds, || sweep.table()));
        println!(
            "  {:>12} rows of {} columns {time:>10.2} ms, {:.2} GB",
            sweep.rows(),
            sweep.columns().len(),
            sweep.bytes() as f64 / 1e9
        );
    }
}

fn stream(brief: &Brief) {
    println!("\nstreaming: counts, best 10 by cost, Pareto front of cost and water");
    let stream = Stream::default()
        .best(10, "cost", Direction::Minimise)
        .pareto(&[("water", Direction::Minimise), ("cost", Direction::Minimise)]);
    for count in [10, 22, 46, 100, 215, 464, 1000] {
        let sweep = thousand_million(brief, count);
        for threads in [1, 2] {
            let start = Instant::now();
            let seen = on(threads, || sweep.stream_within(&stream, 0..sweep.rows(), Level::best()))
                .expect("columns are there");
            let time = start.elapsed().as_secs_f64();
            println!(
                "  {:>12} rows, {threads} thread(s): {time:>8.3} s, {:.2} ns a row; {} feasible, front of {}",
                seen.rows,
                time * 1e9 / seen.rows as f64,
                seen.feasible,
                seen.front.len()
            );
        }
    }
}

fn cells(sweep: &tenside::sweep::Sweep) -> usize {
    usize::try_from(sweep.rows()).expect("it fits") * sweep.columns().len()
}

fn fresh_store(sweep: &tenside::sweep::Sweep) -> Vec<f64> {
    use rayon::prelude::*;
    let mut store = vec![0.0; cells(sweep)];
    store.par_chunks_mut(20_480).enumerate().for_each(|(chunk, cells)| cells.fill(chunk as f64));
    store
}

fn touched_store(sweep: &tenside::sweep::Sweep) -> f64 {
    use rayon::prelude::*;
    let mut store = fresh_store(sweep);
    milliseconds(7, || {
        store.par_chunks_mut(20_480).enumerate().for_each(|(chunk, cells)| cells.fill(black_box(chunk as f64)))
    })
}
