//! The program `baywright`: hands its arguments to the library and its exit code to the system.

#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    baywright::run()
}
