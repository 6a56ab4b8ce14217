//! What is done at the boat, number by number.

use crate::plans::{BOATS, planned};
use boat::jobs::{self, Job, Number, Task};
use boat::plan::Plan;

fn job(jobs: &[Job], task: Task, of: usize) -> &Job {
    jobs.iter().find(|j| j.task == task && j.of == of).unwrap()
}

fn width(number: Number) -> f64 {
    match number {
        Number::Width(mm) => mm,
        other => panic!("{other:?} is no width"),
    }
}

fn count(number: Number) -> usize {
    match number {
        Number::Count(n) => n,
        other => panic!("{other:?} is no count"),
    }
}

fn boats() -> Vec<Plan> {
    BOATS.map(planned).into()
}

#[test]
fn marks_up_a_mould_add_up_to_its_girth() {
    for plan in boats() {
        let jobs = jobs::jobs(&plan, &[]);
        for (j, section) in plan.sections.iter().enumerate() {
            let steps = plan.strakes.iter().map(|s| &job(&jobs, Task::Marks, s.strake).steps[j]);
            let sum: f64 = steps.map(|s| width(s.number)).sum();
            let sheer = plan.marks.iter().rfind(|m| m.section == j).unwrap();
            assert!(
                (sum - sheer.girth).abs() < 1e-6,
                "{} {}: {sum} of {}",
                plan.spec.name,
                section.name,
                sheer.girth
            );
        }
    }
}

#[test]
fn every_rivet_is_counted_once_now_or_when_its_mould_is_out() {
    for plan in boats() {
        let jobs = jobs::jobs(&plan, &[]);
        let total = |task: Task| -> usize {
            jobs.iter().filter(|j| j.task == task).flat_map(|j| &j.steps).map(|s| count(s.number)).sum()
        };
        let blocked = plan.rivets.iter().filter(|r| r.blocked_by.is_some()).count();
        let ends: usize = plan.ends.iter().map(|e| e.own().len()).sum();
        assert_eq!(total(Task::Waiting), blocked, "{}", plan.spec.name);
        assert_eq!(
            total(Task::Rivet),
            plan.rivets.len() - blocked + ends + plan.keel_fastenings.len(),
            "{}",
            plan.spec.name
        );
        let told: usize = jobs
            .iter()
            .filter(|j| j.task == Task::Rivet)
            .flat_map(|j| &j.steps)
            .flat_map(|s| &s.also)
            .filter(|a| a.0.starts_with("wait"))
            .map(|a| count(a.1))
            .sum();
        assert_eq!(told, blocked, "{}", plan.spec.name);
    }
}

#[test]
fn jobs_come_in_the_order_of_the_work() {
    let plan = planned("corncrake");
    let jobs = jobs::jobs(&plan, &[]);
    assert_eq!(jobs[0].task, Task::SetUp);
    let of_three: Vec<&str> =
        jobs.iter().filter(|j| j.of == 3 && j.task != Task::Waiting).map(|j| j.task.word()).collect();
    assert_eq!(of_three, ["marks", "bevel", "fit", "measure", "rivet"]);
    let strakes: Vec<usize> =
        jobs.iter().filter(|j| !matches!(j.task, Task::SetUp | Task::Waiting)).map(|j| j.of).collect();
    assert!(strakes.is_sorted());
    assert!(jobs.iter().rev().take_while(|j| j.task == Task::Waiting).count() > 0);
    // The garboard lies in the rabbet, on no land.
    assert!(!jobs.iter().any(|j| j.task == Task::Bevel && j.of == 1));
}

/// A mould on the wrong side of its line is out by the bevel: which side, and where, stands with every mould, as in the book.
#[test]
fn every_mould_says_which_side_of_its_line_it_stands_and_how_far_aft() {
    for plan in boats() {
        let jobs = jobs::jobs(&plan, &[]);
        let steps = &job(&jobs, Task::SetUp, 0).steps;
        assert_eq!(steps.len(), plan.moulds.len());
        let first = plan.table.first_square().unwrap();
        for (step, mould) in steps.iter().zip(&plan.moulds) {
            let told = |what: &str| step.also.iter().find(|a| a.0 == what).map(|a| a.1);
            let side = if mould.wood_abaft { "abaft its line" } else { "before its line" };
            assert_eq!(told("its body stands"), Some(Number::Word(side)), "{} {}", plan.spec.name, mould.name);
            let x = plan.sections[mould.section].points[0].x;
            assert_eq!(told(&format!("aft of station {}", first.name)), Some(Number::Long(x)));
        }
        assert!(plan.moulds.iter().any(|m| m.wood_abaft) && plan.moulds.iter().any(|m| !m.wood_abaft));
    }
}

#[test]
fn a_reading_is_taken_from_the_mark_that_the_plan_has() {
    let plan = planned("corncrake");
    let jobs = jobs::jobs(&plan, &[]);
    for strake in &plan.strakes {
        for step in &job(&jobs, Task::Measure, strake.strake).steps {
            let at = plan.sections.iter().position(|s| s.name == step.section).unwrap();
            let mark = plan.marks.iter().find(|m| m.land == strake.strake && m.section == at).unwrap();
            assert_eq!(step.mark, Some(mark.girth));
            assert!((width(step.number) - strake.at.iter().find(|a| a.section == at).unwrap().width).abs() < 1e-9);
        }
    }
}
