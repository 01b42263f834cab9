//! What the server says over HTTP and sockets.

pub mod pages;
