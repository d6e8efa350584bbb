//! stub
#[derive(Debug)]
pub struct Band;
#[derive(Debug)]
pub struct Narrower;
