//! The program `baywright`: hands its arguments to the library and its exit code to the system.

fn main() -> std::process::ExitCode {
    baywright::run()
}
