//! The one integration binary: the program as a user runs it, and the order of the sources.

#[cfg(test)]
mod command_line;
#[cfg(test)]
mod compare_command;
#[cfg(test)]
mod demos;
#[cfg(test)]
mod nest_command;
#[cfg(test)]
mod sweep_command;
#[cfg(test)]
mod tidy;
