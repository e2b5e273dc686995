mod sample;
use feedpoint::present::{document, pdf};
#[test]
fn look() {
    for region in feedpoint::norms::region::Region::ALL {
        let job = sample::job_in(region);
        let b = pdf::write(
            "Millrace Library",
            &document::all(&job),
            pdf::Paper::of(region),
            job.project.heading.date,
        )
        .unwrap();
        std::fs::write(format!("/tmp/look-{}.pdf", region.name()), b).unwrap();
    }
}
