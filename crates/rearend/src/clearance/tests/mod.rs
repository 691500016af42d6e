//! What is checked with a view of the inside: shapes against their support functions, and the survey against every pose.

mod every_pose;
mod shapes;
