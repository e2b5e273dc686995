//! Reels, bars and drums at prices that fall with their number: the cheapest purchase that can be
//! cut, against trying everything; what is lost of cable; where a section longer than a reel is joined.

use crate::counter::{Counter, line, program, run, shelves};

use feedpoint::choose::buying::{Article, Bought, buy};
use feedpoint::choose::cutting::{Piece, Stock, cut};
use serde_json::Value;

/// What so many cost at least, buying more where a step makes that cheaper: the definition of an
/// all-units price break (any purchasing textbook, from memory), tried for every quantity.
fn table(ladder: &[(u64, u64)], pack: u64, smallest: u64, most: u64) -> Vec<u64> {
    let price = |bought: u64| {
        let step = ladder.iter().rev().find(|(from, _)| *from <= bought);
        bought * step.unwrap_or(&ladder[0]).1
    };
    let can_be_bought =
        |bought: &u64| *bought == 0 || (bought.is_multiple_of(pack) && *bought >= smallest);
    let at_least = |count: u64| (count..400).filter(can_be_bought).map(price).min();
    let costs = (0..=most).map(|count| if count == 0 { Some(0) } else { at_least(count) });
    costs.map(|cost| cost.expect("a purchase")).collect()
}

/// The cheapest way of all: every partition of the pieces into stock lengths, each from every article
/// that holds it.
fn brute_force(articles: &[Article], lengths: &[u64], kerf: u64) -> Option<u64> {
    fn assign(
        articles: &[Article],
        lengths: &[u64],
        kerf: u64,
        bars: &mut Vec<u64>,
        best: &mut Option<u64>,
    ) {
        let Some((first, rest)) = lengths.split_first() else {
            let mut counts = vec![0; articles.len()];
            choose(articles, bars, &mut counts, best);
            return;
        };
        for index in 0..=bars.len() {
            if index == bars.len() {
                bars.push(*first);
                assign(articles, rest, kerf, bars, best);
                bars.pop();
            } else {
                bars[index] += kerf + first;
                assign(articles, rest, kerf, bars, best);
                bars[index] -= kerf + first;
            }
        }
    }
    fn choose(articles: &[Article], bars: &[u64], counts: &mut Vec<usize>, best: &mut Option<u64>) {
        let Some((bar, rest)) = bars.split_first() else {
            let costs = articles.iter().zip(counts.iter());
            let cost: Option<u64> = costs
                .map(|(article, count)| article.costs.get(*count).copied())
                .sum();
            *best = match (*best, cost) {
                (Some(best), Some(cost)) => Some(best.min(cost)),
                (best, cost) => best.or(cost),
            };
            return;
        };
        for (index, article) in articles.iter().enumerate() {
            if *bar <= article.length {
                counts[index] += 1;
                choose(articles, rest, counts, best);
                counts[index] -= 1;
            }
        }
    }
    let mut best = None;
    assign(articles, lengths, kerf, &mut Vec::new(), &mut best);
    best
}

/// What is wrong with a purchase in itself.
fn fault(
    articles: &[Article],
    pieces: &[Piece],
    kerf: u64,
    bought: &Bought,
) -> Option<&'static str> {
    let mut made = vec![0; pieces.len()];
    let mut used = vec![0; articles.len()];
    for bar in &bought.bars {
        let lengths: u64 = bar.pieces.iter().map(|piece| pieces[*piece].length).sum();
        let cuts = u64::try_from(bar.pieces.len().saturating_sub(1)).expect("a count");
        if lengths + kerf * cuts > articles[bar.stock].length {
            return Some("pieces longer than their stock");
        }
        bar.pieces.iter().for_each(|piece| made[*piece] += 1);
        used[bar.stock] += 1;
    }
    if pieces
        .iter()
        .zip(&made)
        .any(|(piece, made)| piece.count != *made)
    {
        return Some("pieces missing or too many");
    }
    let costs = articles.iter().zip(&used);
    let cost: Option<u64> = costs
        .map(|(article, count)| article.costs.get(*count).copied())
        .sum();
    match cost {
        None => Some("more stock than there is"),
        Some(cost) if cost > bought.price_minor => Some("the price is not that of what is used"),
        Some(_) => None,
    }
}

/// The next of a row of numbers that looks like chance and is the same every time: the linear
/// congruence of Knuth, The Art of Computer Programming 2, 3.3.4 (from memory).
fn next(state: &mut u64, below: u64) -> u64 {
    *state = state
        .wrapping_mul(6_364_136_223_846_793_005)
        .wrapping_add(1_442_695_040_888_963_407);
    (*state >> 33) % below
}

fn counted(lengths: &[u64]) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = Vec::new();
    for &length in lengths {
        match pieces.iter_mut().find(|piece| piece.length == length) {
            Some(piece) => piece.count += 1,
            None => pieces.push(Piece { length, count: 1 }),
        }
    }
    pieces
}

#[test]
fn no_purchase_is_cheaper_than_the_one_that_is_made() {
    let mut state = 2026;
    let (mut cases, mut laddered) = (0, 0);
    while cases < 150 {
        let lengths: Vec<u64> = (0..1 + next(&mut state, 7))
            .map(|_| 1 + next(&mut state, 50))
            .collect();
        let kerf = next(&mut state, 2);
        let count = u64::try_from(lengths.len()).expect("a count");
        let articles: Vec<Article> = [50, 20 + next(&mut state, 29)]
            .map(|length| {
                let each = 10 * length + next(&mut state, 80);
                let from = 2 + next(&mut state, 5);
                let lower = each * (40 + next(&mut state, 55)) / 100;
                let pack = 1 + next(&mut state, 3);
                let most = if next(&mut state, 4) == 0 { 2 } else { count };
                Article {
                    length,
                    costs: table(
                        &[(1, each), (from, lower)],
                        pack,
                        1 + next(&mut state, 3),
                        most,
                    ),
                }
            })
            .to_vec();
        let pieces = counted(&lengths);
        let Some(least) = brute_force(&articles, &lengths, kerf) else {
            continue;
        };
        cases += 1;
        let bought = buy(&articles, &pieces, kerf)
            .unwrap_or_else(|| panic!("no purchase of {articles:?} for {lengths:?}"));
        assert_eq!(
            fault(&articles, &pieces, kerf, &bought),
            None,
            "{articles:?} {lengths:?}"
        );
        assert_eq!(
            bought.price_minor, least,
            "{articles:?} {lengths:?} kerf {kerf}"
        );
        assert!(bought.optimal && bought.bound_minor == least, "{bought:?}");
        laddered += usize::from(
            articles
                .iter()
                .any(|it| it.costs[1] * count > it.costs[it.costs.len() - 1]),
        );
    }
    assert!(
        laddered > 50,
        "only {laddered} of {cases} had a step that counts"
    );
}

#[test]
fn twenty_reels_are_bought_where_eleven_cost_more() {
    // Eleven pieces of 5 need eleven reels: 11 × 40 = 440, or 20 × 21 = 420.
    let article = Article {
        length: 5,
        costs: table(&[(1, 40), (20, 21)], 1, 1, 11),
    };
    let pieces = [Piece {
        length: 5,
        count: 11,
    }];
    let bought = buy(&[article], &pieces, 0).expect("a purchase");
    assert_eq!((bought.price_minor, bought.optimal), (420, true));
}

#[test]
fn a_reel_with_a_ladder_is_bought_at_the_cheaper_total() {
    let made = |count| Counter {
        strip: "reels: [{length: 5 m, price: [{from: 1, price: 40.00}, {from: 5, price: 30.00}]}]",
        runs: shelves(count, "5 m"),
        ..Counter::default()
    };
    // 3 × 40.00 = 120.00; 4 × 40.00 = 160.00, but 5 × 30.00 = 150.00.
    for (count, bought, cost, left) in [(3, "3", "120.00", "0"), (4, "5", "150.00", "1")] {
        let quote = made(count).quote();
        let line = line(&quote, "plain");
        assert_eq!(line["needed"], count.to_string());
        assert_eq!(
            (&line["bought"], &line["cost"]),
            (&bought.into(), &cost.into())
        );
        assert_eq!(line["left_over"], left);
        assert_eq!(quote["cut_proofs"][0]["proved"], true);
    }
}

#[test]
fn a_ladder_changes_which_reels_are_cut() {
    // Four runs of 5 m: one reel of 20 m is 120.00, four of 5 m are 160.00; from three on 25.00 each,
    // 100.00.
    let made = |ladder| Counter {
        strip: ladder,
        runs: shelves(4, "5 m"),
        ..Counter::default()
    };
    let flat = made("reels: [{length: 5 m, price: 40.00}, {length: 20 m, price: 120.00}]").quote();
    assert_eq!(line(&flat, "plain")["cost"], "120.00");
    let laddered = made(
        "reels: [{length: 5 m, price: [{from: 1, price: 40.00}, {from: 3, price: 25.00}]}, \
         {length: 20 m, price: 120.00}]",
    )
    .quote();
    assert_eq!(line(&laddered, "plain")["cost"], "100.00");
    assert_eq!(line(&laddered, "plain")["bought"], "4");
}

#[test]
fn packs_and_smallest_orders_of_reels_hold_and_serve_as_spares() {
    let made = Counter {
        strip: "pack: 4, reels: [{length: 5 m, price: 40.00}]",
        runs: shelves(3, "5 m"),
        pricing: "spares: {strip: 10 %}",
        ..Counter::default()
    };
    let quote = made.quote();
    let lines = quote["lines"].as_array().expect("lines");
    let of_strip: Vec<&Value> = lines
        .iter()
        .filter(|line| line["item"] == "plain")
        .collect();
    // Three are needed; the fourth of the pack is the spare: nothing more is bought.
    assert_eq!(of_strip[0]["bought"], "4");
    assert_eq!(of_strip[0]["left_over"], "0");
    assert_eq!(
        (&of_strip[1]["spare"], &of_strip[1]["bought"]),
        (&true.into(), &"0".into())
    );
    let smallest = Counter {
        strip: "smallest_order: 6, reels: [{length: 5 m, price: 40.00}]",
        runs: shelves(3, "5 m"),
        ..Counter::default()
    };
    assert_eq!(line(&smallest.quote(), "plain")["bought"], "6");
}

/// By hand: 7 m more are seven reels of 1 m, or two of 4 m, which are 8 m. Without prices what is
/// least in metres is taken.
#[test]
fn spares_without_a_price_are_the_least_metres() {
    let made = Counter {
        strip: "reels: [{length: 1 m}, {length: 4 m}]",
        runs: run("long", "7 m", "feed: start"),
        pricing: "spares: {strip: 100 %}",
        ..Counter::default()
    };
    let quote = made.quote();
    let lines = quote["lines"].as_array().expect("lines");
    let spares = lines
        .iter()
        .filter(|line| line["item"] == "plain" && line["spare"] == true);
    let bought: Vec<&Value> = spares.map(|line| &line["bought"]).collect();
    assert_eq!(bought, ["7"]);
}

/// By hand: nothing with a price holds 2.5 m, so one reel of 3 m it is. What is left over of it holds
/// none of the three of 0.9 m: those come off 2 m and 1 m at 20.00, rather than off a second reel whose
/// price nobody knows.
#[test]
fn a_reel_without_a_price_is_taken_only_where_none_with_a_price_will_do() {
    let made = Counter {
        strip: "reels: [{length: 1 m, price: 10.00}, {length: 2 m, price: 10.00}, {length: 3 m}]",
        runs: run("long", "2.5 m", "feed: start") + &shelves(3, "0.9 m"),
        ..Counter::default()
    };
    let quote = made.quote();
    let lines = quote["lines"].as_array().expect("lines");
    let bought: Vec<&Value> = lines
        .iter()
        .filter(|line| line["item"] == "plain")
        .map(|line| &line["bought"])
        .collect();
    assert_eq!(bought, ["1", "1", "1"]);
}

/// A metre costs 1.20 as such, and 50.00 / 50 = 1.00 or 150.00 / 100 = 1.50 off a drum.
#[test]
fn of_mains_cables_of_one_size_the_one_whose_metre_costs_least_is_taken() {
    for (drum, taken) in [
        ("length: 50 m, price: 50.00", "drummed"),
        ("length: 100 m, price: 150.00", "loose"),
        ("length: 100 m", "loose"),
    ] {
        let keys = "use: mains, cores: 3, size: 1.5 mm², conductor: class 1, insulation: 70 °C";
        let more = format!(
            "  - {{cable: loose, {keys}, price: 1.20}}
  - {{cable: drummed, {keys}, drums: [{{{drum}}}]}}"
        );
        let made = Counter {
            more: &more,
            pricing: "labour_rate: 42.00",
            ..Counter::default()
        };
        let quote = made.quote();
        let lines = quote["lines"].as_array().expect("lines");
        let mains: Vec<&Value> = lines
            .iter()
            .map(|line| &line["item"])
            .filter(|item| *item == "loose" || *item == "drummed")
            .collect();
        assert_eq!(mains, [taken], "{drum}");
    }
}

#[test]
fn what_is_lost_of_cable_is_a_figure_of_its_own() {
    // Three feeds of 4 m: 12 m; 5 % of that is 0.6 m: 13 whole metres. Hours are for 12 m.
    let made = |cable, pricing| Counter {
        cable,
        runs: shelves(3, "5 m"),
        pricing,
        ..Counter::default()
    };
    let quote = made(
        "price: 1.00, labour: 6 min",
        "labour_rate: 42.00, cable_waste: 5 %",
    )
    .quote();
    let cable = line(&quote, "c2");
    for (key, value) in [
        ("needed", "12"),
        ("waste", "0.6"),
        ("bought", "13"),
        ("left_over", "0.4"),
    ] {
        assert_eq!(cable[key], value, "{key}");
    }
    let labour = quote["labour"].as_array().expect("labour");
    let fitted = labour
        .iter()
        .find(|line| line["work"] == "fit c2")
        .expect("work");
    assert_eq!(fitted["quantity"], "12");
    // The cable's own share comes first.
    let own = made("price: 1.00, waste: 10 %", "cable_waste: 5 %").quote();
    assert_eq!(line(&own, "c2")["waste"], "1.2");
    // From drums of 8.2 m: two feeds of 4 m fit one, but not with 5 % more of each.
    let drums = |pricing| made("drums: [{length: 8.2 m, price: 9.00}]", pricing).quote();
    assert_eq!(line(&drums("cable_waste: 0 %"), "c2")["bought"], "2");
    let wasted = drums("cable_waste: 5 %");
    assert_eq!(line(&wasted, "c2")["bought"], "3");
    assert_eq!(line(&wasted, "c2")["waste"], "0.6");
}

/// Places of joints in a run, by the quote and by the feed points that a fitter works from.
fn joints(made: &Counter) -> (Vec<f64>, String) {
    let quote = made.quote();
    let cuts = quote["cuts"].as_array().expect("cuts").iter();
    let pieces = cuts.flat_map(|cut| cut["pieces"].as_array().expect("pieces"));
    let mut places: Vec<f64> = pieces
        .filter(|piece| piece["part"] != 1)
        .map(|piece| piece["at_mm"].as_f64().expect("a place"))
        .collect();
    places.sort_by(f64::total_cmp);
    let folder = made.folder();
    program(
        folder.path(),
        &["report", "project.yaml", "--out", "out", "--quiet"],
    );
    let feeds = std::fs::read_to_string(folder.path().join("out/run-places.csv")).expect("places");
    (places, feeds)
}

#[test]
fn a_joint_stands_where_least_current_passes() {
    let reels = "reels: [{length: 5 m, price: 40.00}]";
    // Fed at both ends by cables alike, the currents meet in the middle.
    let (places, feeds) = joints(&Counter {
        strip: reels,
        runs: run("shelf", "8 m", "feed: both ends"),
        ..Counter::default()
    });
    assert_eq!(places, [4000.0]);
    let row = feeds
        .lines()
        .find(|row| row.contains("joint"))
        .expect("a joint");
    assert!(row.contains(",4,"), "{row}");
    // A feed within reach of the reels carries the joint.
    let (places, _) = joints(&Counter {
        strip: reels,
        runs: run(
            "shelf",
            "8 m",
            "reach_along: yes, feed: \"at [0 m, 4.6 m]\"",
        ),
        ..Counter::default()
    });
    assert_eq!(places, [4600.0]);
}

#[test]
fn cheaper_reels_come_before_the_place_of_a_joint() {
    // 5 m and 3 m cost 40.00 + 20.00; two of 4 m take two reels of 5 m, 80.00.
    let (places, _) = joints(&Counter {
        strip: "reels: [{length: 5 m, price: 40.00}, {length: 3 m, price: 20.00}]",
        runs: run("shelf", "8 m", "feed: both ends"),
        ..Counter::default()
    });
    assert!(places == [5000.0] || places == [3000.0], "{places:?}");
}

/// A reel of 6 costs what one of 5 does: 3 + 2 use the shorter to its end, 3 + 3 need the longer.
#[test]
fn of_reels_at_one_price_the_shortest_that_holds_the_pieces_is_cut() {
    let stocks = [6, 5].map(|length| Stock {
        length,
        price_minor: 1000,
        available: None,
    });
    for (lengths, taken) in [([3, 2], 1), ([3, 3], 0)] {
        let plan = cut(&stocks, &counted(&lengths), 0).expect("it can be cut");
        let reels: Vec<usize> = plan.bars.iter().map(|bar| bar.stock).collect();
        assert_eq!(
            (reels, plan.price_minor),
            (vec![taken], 1000),
            "{lengths:?}"
        );
    }
}
