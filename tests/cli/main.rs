//! The program as a user runs it: paths and options in, text and exit status out.

mod assumes;
mod astray;
mod catalogue;
mod company;
mod demo;
mod draw;
mod files;
mod formats;
mod guides;
mod harness;
mod json;
mod mutations;
mod patched;
mod paths;
mod place;
mod readings;
mod report;
mod screen;
mod settings;
mod status;
mod threads;
mod trim;
mod waivers;
mod walk;
mod walkaround;
