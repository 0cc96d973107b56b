//! Which instructions a kernel is compiled for. Every level gives the same bits: nothing is fused, and lanes never
//! meet.

#[cfg(target_arch = "x86_64")]
use fearless_simd::Simd;

/// A set of instructions.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Level {
    /// What every processor of the target has.
    Portable,
    /// 256 bits at a time, where the processor has it.
    Wide,
    /// 512 bits at a time, where the processor has it.
    Widest,
}

impl Level {
    /// The levels that this processor has, the widest last.
    #[must_use]
    pub fn available() -> Vec<Level> {
        #[cfg(target_arch = "x86_64")]
        let (wide, widest) = {
            let processor = fearless_simd::Level::new();
            (processor.as_avx2().map(|_| Level::Wide), processor.as_avx512().map(|_| Level::Widest))
        };
        #[cfg(not(target_arch = "x86_64"))]
        let (wide, widest) = (None, None);
        std::iter::once(Level::Portable).chain(wide).chain(widest).collect()
    }

    /// The widest level that this processor has.
    #[must_use]
    pub fn best() -> Level {
        Level::available().last().copied().unwrap_or(Level::Portable)
    }

    /// Runs a kernel, which must be inlined always, as must what it calls; a level that the processor lacks runs the
    /// portable one.
    pub(in crate::sweep) fn run<R>(self, mut kernel: impl FnMut() -> R) -> R {
        #[cfg(target_arch = "x86_64")]
        {
            let processor = fearless_simd::Level::new();
            if let Some(simd) = processor.as_avx2().filter(|_| self == Level::Wide) {
                return simd.vectorize(
                    #[inline(always)]
                    || once(kernel),
                );
            }
            if let Some(simd) = processor.as_avx512().filter(|_| self == Level::Widest) {
                return simd.vectorize(
                    #[inline(always)]
                    || once(kernel),
                );
            }
        }
        kernel()
    }
}

/// Calls a kernel as what may be called often: what calls a borrowing closure through `FnOnce` need not be inlined.
#[cfg(target_arch = "x86_64")]
#[inline(always)]
fn once<R>(mut kernel: impl FnMut() -> R) -> R {
    kernel()
}
