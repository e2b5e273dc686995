//! Published limits and tables, one file per standard, each value beside its source.
//!
//! Knows nothing of projects.

pub mod as_nzs_3008;
pub mod astm_b258;
pub mod copper;
pub mod defaults;
pub mod iec_60228;
pub mod iec_60364_4_41;
pub mod iec_60364_5_52;
pub mod iec_60364_6;
pub mod iec_60529;
pub mod iec_60898;
pub mod iec_62386;
pub mod light_modulation;
pub mod limit;
pub mod nec_ampacity;
pub mod nec_class_2;
pub mod nec_resistance;
pub mod region;
pub mod residual;
pub mod usual;
