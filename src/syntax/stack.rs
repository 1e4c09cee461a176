//! Room for the parser's recursion.

use std::cell::Cell;

/// The stack, in bytes, of every thread that parses. The worst text within the limits of this room needs a quarter of
/// it where the parser is built without optimisation (tested). It is address space: only what is used is committed.
pub const STACK: usize = 64 << 20;

thread_local! {
    /// Set on threads that have [`STACK`].
    static ENOUGH: Cell<bool> = const { Cell::new(false) };
}

/// A builder of a thread pool whose threads may parse without further ado.
#[must_use]
pub fn pool() -> rayon::ThreadPoolBuilder {
    rayon::ThreadPoolBuilder::new().stack_size(STACK).start_handler(|_| ENOUGH.set(true))
}

/// Runs `work` where the stack suffices: in place when it does already, otherwise on a thread of its own.
///
/// When the system gives no thread, `work` runs in place; [`parse`](super::parse) then refuses instead of running out
/// of stack. A panic in `work` goes on in the caller.
pub fn with_stack<T: Send>(work: impl FnOnce() -> T + Send) -> T {
    if suffices() {
        return work();
    }
    let mut slot = Some(work);
    let ran = std::thread::scope(|scope| {
        let work = &mut slot;
        let spawned = std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, move || {
            ENOUGH.set(true);
            work.take().map(|work| work())
        });
        spawned.ok().map(std::thread::ScopedJoinHandle::join)
    });
    match ran {
        Some(Ok(Some(result))) => result,
        Some(Err(panic)) => std::panic::resume_unwind(panic),
        _ => unspawned(slot),
    }
}

/// Runs what no thread was given for. The work is still there: only a thread that ran takes it.
fn unspawned<T>(work: Option<impl FnOnce() -> T>) -> T {
    match work {
        Some(work) => work(),
        None => unreachable!("a thread that ran has returned its result or its panic"),
    }
}

/// Whether this thread is known to have [`STACK`].
pub(super) fn suffices() -> bool {
    ENOUGH.get()
}
