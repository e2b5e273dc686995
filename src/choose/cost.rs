//! What things cost when arrangements are compared: price less discount, and labour.
//!
//! Prices are those of the smallest quantity; the quote counts the whole job and its price steps.

use crate::model::cable::Cable;
use crate::model::extra::Per;
use crate::model::offer::Offer;
use crate::model::pricing::Pricing;
use crate::model::project::Project;
use crate::model::run::Run;
use crate::quantity::Length;
use num_traits::ToPrimitive;
use rust_decimal::Decimal;
use uom::si::length::millimeter;
use uom::si::time::minute;

/// Decimals kept while costs are compared.
const DECIMALS: u32 = 4;

/// Whether two ways of pricing compare everything alike: they differ at most in what comes on top of
/// price less discount and labour.
#[must_use]
pub fn compares_alike(a: &Pricing, b: &Pricing) -> bool {
    // Every field is named, so that one that is added is not forgotten here.
    let Pricing {
        labour_rate,
        trades,
        discount,
        overhead: _,
        contingency: _,
        uplift: _,
        commissioning: _,
        provisional: _,
        customer_discount: _,
        tax: _,
        spares: _,
        cable_waste: _,
        keep_offcut: _,
        valid_until: _,
        rounding: _,
        decimals: _,
        place: _,
    } = a;
    *labour_rate == b.labour_rate && *trades == b.trades && *discount == b.discount
}

/// Price of one unit with its labour; `None` when there is no price.
#[must_use]
pub fn unit(offer: &Offer, pricing: &Pricing) -> Option<Decimal> {
    let price = offer.prices.first()?.price;
    Some(discounted(price, offer, pricing) + labour(offer, pricing))
}

/// Price of a metre of cable with its labour, by the metre or as the cheapest drum.
#[must_use]
pub fn metre(cable: &Cable, pricing: &Pricing) -> Option<Decimal> {
    let by_drum = || {
        cable
            .drums
            .iter()
            .filter_map(|drum| drum.price()?.checked_div(metres(drum.length)))
            .min()
    };
    let by_metre = cable.offer.prices.first().map(|step| step.price);
    let price = by_metre.or_else(by_drum)?;
    Some(discounted(price, &cable.offer, pricing) + labour(&cable.offer, pricing))
}

/// Price of cable of a length with its labour.
#[must_use]
pub fn cable(cable: &Cable, length: Length, pricing: &Pricing) -> Option<Decimal> {
    Some(metre(cable, pricing)? * metres(length))
}

/// Price of what each feed, or each section, of a run gets; `None` when a price is missing.
#[must_use]
pub fn accessories(project: &Project, run: &Run, per: Per) -> Option<Decimal> {
    let all = project.catalogue.accessories.iter().map(AsRef::as_ref);
    super::limits::accessories(all, run, per)
        .map(|accessory| {
            let quantity = Decimal::from(accessory.quantity);
            unit(&accessory.offer, &project.pricing).map(|price| price * quantity)
        })
        .sum()
}

fn discounted(price: Decimal, offer: &Offer, pricing: &Pricing) -> Decimal {
    let percent = pricing
        .discount
        .get(&offer.kind)
        .copied()
        .unwrap_or_default();
    price - price * percent / Decimal::ONE_HUNDRED
}

fn labour(offer: &Offer, pricing: &Pricing) -> Decimal {
    let (Some(time), Some(rate)) = (offer.labour, pricing.labour_rate_on(offer.kind)) else {
        return Decimal::ZERO;
    };
    let minutes = Decimal::from_f64_retain(time.get::<minute>()).unwrap_or_default();
    (minutes * rate / Decimal::from(60)).round_dp(DECIMALS)
}

/// A length in metres, to the millimetre.
pub(super) fn metres(length: Length) -> Decimal {
    let whole = length
        .get::<millimeter>()
        .round()
        .to_i64()
        .unwrap_or(i64::MAX);
    Decimal::new(whole, 3)
}

/// A cost as a real number, for ratios only.
#[must_use]
pub fn real(cost: Decimal) -> f64 {
    cost.to_f64().unwrap_or(f64::INFINITY)
}

/// A real number as a cost.
#[must_use]
pub fn decimal(cost: f64) -> Option<Decimal> {
    let smallest = (cost * 10_f64.powi(4)).round().to_i64()?;
    Some(Decimal::new(smallest, DECIMALS))
}

/// A cost in the smallest unit that packing counts in: ten-thousandths of the currency.
#[must_use]
pub fn minor(cost: Decimal) -> u64 {
    (cost * Decimal::from(10_000))
        .round()
        .to_u64()
        .unwrap_or(u64::MAX)
}

/// The cost of so many of the smallest units.
#[must_use]
pub fn of_minor(units: u64) -> Decimal {
    Decimal::from(units) / Decimal::from(10_000)
}
