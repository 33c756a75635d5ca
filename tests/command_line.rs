//! The real program as a script sees it: exit statuses, one object and a newline, what is read and what is refused,
//! books that cannot be used, and the README's commands run as they are printed.

#[path = "command_line/books.rs"]
mod books;
#[path = "command_line/input.rs"]
mod input;
#[path = "command_line/instants.rs"]
mod instants;
#[path = "command_line/pages.rs"]
mod pages;
#[path = "command_line/paper.rs"]
mod paper;
#[path = "command_line/readme.rs"]
mod readme;
#[path = "command_line/shape.rs"]
mod shape;
#[path = "command_line/shop.rs"]
mod shop;
