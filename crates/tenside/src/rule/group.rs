//! Groups of substances that a list names and its rules sum. A group may take in others; none may take in itself.

use std::collections::HashMap;

use crate::document::shown;
use crate::error::{Fault, FaultKind};
use crate::measure::{SubstanceSum, SumFactor, SumMember};

/// The most members of a group, those of the groups it takes in included.
const MOST_MEMBERS: usize = 10_000;

/// A named group of substances, as a list writes it.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Group {
    /// What rules call it.
    pub name: String,
    /// What findings call it: "benzoic acid and sodium benzoate, as acid".
    pub title: String,
    /// Its own members.
    pub members: Vec<(SumMember, SumFactor)>,
    /// The groups it takes in.
    pub groups: Vec<String>,
}

/// The sum of each group by its name; a fault with the index of the group it belongs to.
pub(super) fn resolve(groups: &[Group]) -> (HashMap<&str, SubstanceSum>, Vec<(usize, Fault)>) {
    let mut faults = Vec::new();
    let mut index: HashMap<&str, usize> = HashMap::new();
    for (at, group) in groups.iter().enumerate() {
        if index.insert(&group.name, at).is_some() {
            faults.push((
                at,
                Fault::new(FaultKind::Duplicate, "two groups have the same name").value(shown(&group.name)),
            ));
        }
    }
    let mut takers: Vec<Vec<usize>> = vec![Vec::new(); groups.len()];
    let mut waiting: Vec<usize> = vec![0; groups.len()];
    for (at, group) in groups.iter().enumerate() {
        for taken in &group.groups {
            match index.get(taken.as_str()) {
                Some(&taken) => {
                    takers[taken].push(at);
                    waiting[at] += 1;
                }
                None => faults.push((
                    at,
                    crate::document::unknown_name("group", taken, groups.iter().map(|group| group.name.as_str())),
                )),
            }
        }
    }
    if !faults.is_empty() {
        return (HashMap::new(), faults);
    }
    let mut members: Vec<Vec<(SumMember, SumFactor)>> = groups.iter().map(|group| group.members.clone()).collect();
    let mut ready: Vec<usize> = (0..groups.len()).filter(|at| waiting[*at] == 0).collect();
    let mut sums = HashMap::new();
    let mut done = 0;
    while let Some(at) = ready.pop() {
        done += 1;
        let own = std::mem::take(&mut members[at]);
        for &taker in &takers[at] {
            let inner = &mut members[taker];
            inner.extend(own.iter().filter(|member| !groups[taker].members.contains(member)).cloned());
            waiting[taker] -= 1;
            if waiting[taker] == 0 {
                ready.push(taker);
            }
        }
        match sum(&groups[at], own) {
            Ok(sum) => {
                sums.insert(groups[at].name.as_str(), sum);
            }
            Err(found) => faults.extend(found.into_iter().map(|fault| (at, fault))),
        }
    }
    if done < groups.len() {
        for at in (0..groups.len()).filter(|at| waiting[*at] > 0) {
            let remedy = "take out one of the groups that lead back to it";
            faults.push((
                at,
                Fault::new(FaultKind::Loop, "a group contains itself").value(shown(&groups[at].name)).remedy(remedy),
            ));
        }
    }
    (sums, faults)
}

/// The same member by two ways counts once; by two factors it is a contradiction, which the sum refuses.
fn sum(group: &Group, members: Vec<(SumMember, SumFactor)>) -> Result<SubstanceSum, Vec<Fault>> {
    if members.len() > MOST_MEMBERS {
        let fault = Fault::new(FaultKind::OutOfRange, "a group has too many members")
            .value(members.len())
            .allowed(format!("at most {MOST_MEMBERS}"));
        return Err(vec![fault]);
    }
    let mut kept: Vec<(SumMember, SumFactor)> = Vec::with_capacity(members.len());
    let mut first: HashMap<String, usize> = HashMap::with_capacity(members.len());
    for (index, member) in members.into_iter().enumerate() {
        // A group's own members stand first and are compared by the sum itself.
        match first.get(&member.0.shown()) {
            Some(&known) if index >= group.members.len() && kept[known] == member => {}
            _ => {
                first.insert(member.0.shown(), kept.len());
                kept.push(member);
            }
        }
    }
    SubstanceSum::new(&group.title, kept).map_err(crate::error::Error::into_faults)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::number::Exact;

    fn group(name: &str, members: &[&str], groups: &[&str]) -> Group {
        let member = |inci: &&str| (SumMember::Substance((*inci).to_string()), SumFactor::Parts(Exact::ONE));
        Group {
            name: name.to_string(),
            title: name.to_string(),
            members: members.iter().map(member).collect(),
            groups: groups.iter().map(|name| (*name).to_string()).collect(),
        }
    }

    #[test]
    fn a_group_takes_in_the_members_of_others_once() {
        let groups =
            [group("all", &["Z"], &["one", "two"]), group("one", &["A", "B"], &["two"]), group("two", &["C"], &[])];
        let (sums, faults) = resolve(&groups);
        assert!(faults.is_empty(), "{faults:?}");
        assert_eq!(sums["all"].members().len(), 4);
        assert_eq!(sums["one"].members().len(), 3);
    }

    #[test]
    fn loops_and_unknown_groups_are_refused() {
        let (_, faults) = resolve(&[group("a", &["A"], &["b"]), group("b", &["B"], &["a"]), group("c", &["C"], &[])]);
        assert_eq!(
            faults.iter().map(|(at, fault)| (*at, fault.kind)).collect::<Vec<_>>(),
            [(0, FaultKind::Loop), (1, FaultKind::Loop)]
        );
        let (_, faults) = resolve(&[group("one", &["A"], &["tow"]), group("two", &["B"], &[])]);
        assert_eq!(faults[0].1.kind, FaultKind::UnknownName);
        let (_, faults) = resolve(&[group("one", &["A"], &["one"])]);
        assert_eq!(faults[0].1.kind, FaultKind::Loop);
        let (_, faults) = resolve(&[group("one", &["A"], &[]), group("one", &["A"], &[])]);
        assert_eq!(faults[0].1.kind, FaultKind::Duplicate);
        let (_, faults) = resolve(&[group("one", &["A", "a"], &[])]);
        assert_eq!(faults[0].1.kind, FaultKind::Duplicate);
    }
}
