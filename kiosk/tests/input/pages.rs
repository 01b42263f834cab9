//! A row that is too narrow for all of its buttons is told off in pages.

use proptest::prelude::*;
use turnabout_kiosk::input::{Choice, Does, FourKey, PAGE_MS, Page, choices, pages};

use crate::{face, hands_at, seen};

proptest! {
    #[test]
    fn no_page_has_more_buttons_than_there_is_room_for_and_none_is_left_out(
        places in proptest::collection::vec(1..=2usize, 0..20), calls in 0..3usize, room in 5..20usize,
    ) {
        let pages = pages(&places, calls, room);
        prop_assert_eq!(pages.len(), places.len());
        prop_assert!(pages.is_sorted(), "in their order");
        let last = pages.last().copied().unwrap_or(0);
        // Turning costs a place, and is there only where it is needed.
        let all: usize = places.iter().sum();
        prop_assert_eq!(last == 0, all + calls <= room);
        for page in 0..=last {
            let on: Vec<usize> = pages.iter().zip(&places).filter(|(of, _)| **of == page).map(|(_, p)| *p).collect();
            prop_assert!(last == 0 || !on.is_empty());
            prop_assert!(on.iter().sum::<usize>() + calls + usize::from(last > 0) <= room);
        }
    }
}

/// The names on the page that is turned up.
fn on_page(list: &[Choice], page: usize) -> Vec<&str> {
    list.iter().filter(|choice| choice.page == Page::Of(page)).map(|choice| choice.name.as_str()).collect()
}

#[test]
fn more_turns_the_page_and_it_turns_back_by_itself() {
    let list = choices(&face("not-as-shown-crowded"), seen(false, 10));
    assert_eq!(on_page(&list, 0)[..3], ["confirm_load", "still_here", "go"]);
    assert!(on_page(&list, 1).contains(&"lighter"));
    assert!(on_page(&list, 2).is_empty());
    let (mut hands, now) = hands_at(list.clone());
    assert_eq!(hands.drawn(now).page, 0);
    let turn = |hands: &mut turnabout_kiosk::input::Hands, at: u64| {
        hands.down(Choice::MORE, at);
        assert_eq!(hands.up(Choice::MORE, true, at + 100), None);
        hands.draws(list.clone(), at + 100);
        hands.drawn(at + 100).page
    };
    assert_eq!(turn(&mut hands, now), 1);
    // What has come under the finger only now was not meant.
    hands.down("lighter", now + 200);
    assert_eq!(hands.up("lighter", true, now + 300), None);
    hands.down("lighter", now + 500);
    assert!(matches!(hands.up("lighter", true, now + 600), Some(Does::Send(_))));
    assert_eq!(hands.drawn(now + 600).page, 0, "what was wanted is done");
    assert_eq!(turn(&mut hands, now + 1_000), 1);
    let back = now + 1_100 + PAGE_MS;
    assert_eq!((hands.drawn(back - 1).page, hands.changes(back - 1)), (1, Some(back)));
    assert_eq!(hands.drawn(back).page, 0);
    // From the last page on to the first.
    hands.draws(list.clone(), back);
    assert_eq!((turn(&mut hands, back), turn(&mut hands, back + 1_000)), (1, 0));
}

#[test]
fn what_is_expected_is_on_the_first_page() {
    let mut paged = 0;
    for sample in crate::scenes::all() {
        let list = choices(&sample.face(turnabout_protocol::text::Language::De), seen(false, 6));
        for choice in list.iter().filter(|choice| choice.expected) {
            assert!(matches!(choice.page, Page::Every | Page::Of(0)), "{}: {choice:?}", sample.name);
            paged += usize::from(choice.page == Page::Of(0));
        }
    }
    assert!(paged > 10, "{paged} of them are told off in pages");
}

#[test]
fn the_page_follows_the_mark() {
    let list = choices(&face("not-as-shown-crowded"), seen(false, 10));
    let (mut hands, mut now) = hands_at(list.clone());
    let mut turned = Vec::new();
    for _ in 0..list.len() {
        assert_eq!(hands.key_down(FourKey::Plus, false, now), None);
        hands.key_up(FourKey::Plus);
        hands.draws(list.clone(), now);
        let drawn = hands.drawn(now);
        let page = list.iter().find(|choice| choice.name == drawn.marked).unwrap().page;
        assert!(page == Page::Every || page == Page::Of(drawn.page), "{drawn:?}");
        turned.push(drawn.page);
        now += 500;
    }
    assert!(turned.contains(&0) && turned.contains(&1), "{turned:?}");
}
