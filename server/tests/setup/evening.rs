//! What sessions, policies, stations and prescriptions mean, and mistakes that need two files or two groups.

use turnabout_protocol::ids::{ClientId, ExerciseId, GroupId, Key, StationId};
use turnabout_protocol::units::{Mass, MassUnit, Secs};
use turnabout_protocol::work::Work;
use turnabout_server::floor::config::{
    Day, Floor, KeptForMembers, Screening, ScreeningPolicy, ScreeningResult, Setting, Settings, Sharing,
    Shift,
};
use turnabout_server::floor::hours::Hours;
use turnabout_server::floor::local_time::{Minute, Weekday};
use turnabout_server::setup::{parse_floor, parse_programme};
use turnabout_server::training::block::{Leg, Target};

use crate::evening_mistakes::{floor, programme};
use crate::small::{FLOOR, PROGRAMME, changed, told_of, told_of_floor};

fn minute(text: &str) -> Minute {
    text.parse().expect("a time of day")
}

fn read(text: &str) -> Floor {
    parse_floor("floor.toml", text, None).unwrap_or_else(|mistakes| panic!("{mistakes}")).floor
}

/// Lines of the floor before its emergency notes.
fn with_head(lines: &str) -> String {
    changed(FLOOR, "[floor.emergency]", &format!("{lines}\n[floor.emergency]"))
}

#[test]
fn what_the_manager_decides_is_read() {
    let text = "[floor.settings]\nidle = \"15 min\"\nlapse = \"90 s\"\nlate = \"5 min\"\nno_show = \"20 min\"\n\
                [floor.handles]\nrope = 2\nv-bar = 1\n\
                [floor.policy]\nstations_a_coach = 4\nclients_a_coach = 6\nscreening = \"coach-decides\"\n\
                [[floor.policy.members]]\nstations = [\"row-1\", \"mat\"]\nkeep = 1\n\
                [floor.policy.members.hours]\nfriday = [\"17:00-19:00\"]\n\
                [[floor.policy.members]]\nstations = [\"bench-1\", \"row-1\"]\nkeep = 1";
    let text = changed(&with_head(text), "key = \"cable-row\"\n", "key = \"cable-row\"\nhandle = \"rope\"\n");
    let text = changed(&text, "key = \"push-up\"\n", "key = \"push-up\"\nhandle = \"v-bar\"\n");
    let floor = read(&text);
    let usual = Settings::default();
    let expected =
        Settings { idle: Secs(900), lapse: Secs(90), late: Secs(300), no_show: Secs(1_200), ..usual };
    assert_eq!(floor.settings, expected);
    let handles: Vec<_> = floor.handles.iter().map(|(key, count)| (key.as_str(), *count)).collect();
    assert_eq!(handles, [("rope", 2), ("v-bar", 1)]);
    assert_eq!((floor.policy.stations_a_coach, floor.policy.clients_a_coach), (Some(4), Some(6)));
    assert_eq!(floor.policy.screening, ScreeningPolicy::CoachDecides);
    assert!(!floor.policy.arms_accepted);
    let [some_hours, always] = floor.policy.members.as_slice() else { panic!("{:?}", floor.policy.members) };
    assert_eq!((some_hours.keep, &some_hours.stations), (1, &[StationId(2), StationId(3)].into()));
    assert_eq!(some_hours.hours.windows(Weekday::Friday)[0].to_string(), "17:00-19:00");
    let expected =
        KeptForMembers { stations: [StationId(1), StationId(2)].into(), keep: 1, hours: Hours::default() };
    assert_eq!(*always, expected);
}

#[test]
fn what_a_station_and_a_coach_have_is_read() {
    let more = "at = [2.0, 3.5]\nsharing = \"ask\"\narms = true\n\
                settings = [ { name = \"Uprights\", values = [1, 2, \"2a\"] } ]\n";
    let text = changed(&with_head("[floor.policy]\narms_accepted = true"), "at = [2.0, 3.5]\n", more);
    let text = changed(&text, "name = \"Ayla\"", "name = \"Ayla\"\nshift = \"16:00-24:00\"");
    let floor = read(&text);
    let bench = &floor.stations[&StationId(1)];
    let values = ["1", "2", "2a"].map(str::to_owned).to_vec();
    assert_eq!(bench.settings, [Setting { name: "Uprights".to_owned(), values }]);
    assert_eq!((bench.sharing, bench.arms, floor.policy.arms_accepted), (Sharing::Ask, true, true));
    let row = &floor.stations[&StationId(2)];
    assert_eq!((row.sharing, row.arms, row.settings.len()), (Sharing::Never, false, 0));
    let coach = floor.coaches.values().next().unwrap();
    assert_eq!(coach.shift, Some(Shift { from: minute("16:00"), to: Minute::END }));
}

#[test]
fn the_evening_of_the_examples_means_what_it_says() {
    let floor = read(include_str!("../../examples/floor.toml"));
    let file = parse_programme("evening.toml", include_str!("../../examples/evening.toml"), &floor);
    let programme = file.unwrap_or_else(|mistakes| panic!("{mistakes}")).programme;
    let (orla, pavo) = (ClientId(201), ClientId(202));
    assert_eq!((programme.clients[&orla].regular, programme.clients[&pavo].regular), (true, false));
    assert_eq!((programme.clients[&orla].unit, programme.clients[&pavo].unit), (None, Some(MassUnit::Lb)));
    let on = Day { year: 2026, month: 10, day: 12 };
    let screening = Screening { on, result: ScreeningResult::FollowUpNeeded };
    assert_eq!(programme.clients[&pavo].screening, Some(screening));
    let first = &programme.groups[&GroupId(1)];
    assert_eq!((first.starts, first.ends), (Some(minute("18:00")), Some(minute("19:00"))));
    let [pyramid, sides] = first.blocks.as_slice() else { panic!("{:?}", first.blocks) };
    assert_eq!((pyramid.changeover, sides.legs[0].per_side), (Secs(0), true));
    let [press, drop] = pyramid.legs.as_slice() else { panic!("{:?}", pyramid.legs) };
    assert_eq!((press.in_place, drop.in_place), (false, true));
    let kg = |kg: i64| Some(Mass::from_grams(kg * 1_000));
    let rounds = |leg: &Leg, client| leg.sets[&client].rounds.clone();
    let last = Work::Reps { least: 4, most: 6 };
    let target = Target::plain;
    let expected = [target(Work::reps(10), kg(40)), target(Work::reps(8), kg(45)), target(last, kg(50))];
    assert_eq!(rounds(press, orla), expected);
    assert_eq!(rounds(press, pavo), [target(Work::reps(8), kg(25))]);
    assert_eq!((press.sets[&orla].reserve, press.sets[&pavo].reserve), (Some(2), Some(3)));
    assert_eq!((press.sets[&orla].technique.reps, press.sets[&pavo].technique.reps), (3, 4));
    assert_eq!(press.sets[&pavo].tempo, "3-0-1-0".parse().unwrap());
    let second = &programme.groups[&GroupId(2)];
    assert_eq!(second.clients, [ClientId(203), orla], "in two groups at times that are apart");
    let hold = Work::Hold { secs: Secs(20) };
    assert_eq!(rounds(&second.blocks[0].legs[0], orla), [target(hold, kg(30))]);
}

#[test]
fn one_figure_beside_a_list_counts_for_all_rounds() {
    let text = changed(PROGRAMME, "load = \"40 kg\"", "load = [\"30 kg\", \"40 kg\", \"45 kg\"]");
    let floor = read(FLOOR);
    let programme = parse_programme("programme.toml", &text, &floor).unwrap().programme;
    let leg = &programme.groups[&GroupId(1)].blocks[0].legs[0];
    let told: Vec<_> = leg.sets[&ClientId(104)].rounds.iter().map(|t| (t.work.target(), t.fixed())).collect();
    let kg = |kg: i64| Some(Mass::from_grams(kg * 1_000).into());
    assert_eq!(told, [(10, kg(30)), (10, kg(40)), (10, kg(45))]);
    assert_eq!(leg.sets[&ClientId(105)].rounds.len(), 1, "eight with 25 kg, in every round");
}

/// A second group of the client 104.
fn twice(times: &str) -> String {
    let group = format!(
        "[[group]]\nnumber = 2\ncoach = \"coach-1\"\nclients = [104]\n{times}\n[[group.block]]\nrounds = 1\n\
         rest = [\"0 s\", \"0 s\"]\nexercise = [{{ use = \"push-up\", reps = 1, tempo = \"1-0-1-0\" }}]\n"
    );
    format!("{}{group}", programme())
}

#[test]
fn a_client_is_in_two_groups_only_where_both_say_that_they_are_apart() {
    for apart in ["starts = \"19:00\"\nends = \"20:00\"", "starts = \"17:00\"\nends = \"18:00\""] {
        assert_eq!(told_of(&floor(), &twice(apart)), [""; 0], "{apart}");
    }
    let told = " group[2].clients[1]: found client 104, who is in group 1 already, allowed one group a client, or groups whose times are apart";
    for not_apart in ["", "starts = \"19:00\"", "starts = \"18:59\"\nends = \"19:30\""] {
        let lines = told_of(&floor(), &twice(not_apart));
        assert!(lines.len() == 1 && lines[0].ends_with(told), "{not_apart}: {lines:#?}");
    }
}

/// A second exercise on the same bench.
fn same_bench(more: &str) -> String {
    let row = "use = \"cable-row\"\nreps = 12\ntempo = \"2-0-X-1\"\nload = \"30 kg\"";
    changed(PROGRAMME, row, &format!("use = \"bench-press\"\nreps = 12\ntempo = \"2-0-X-1\"\n{more}"))
}

#[test]
fn two_exercises_at_one_bench_are_said_to_be_in_place_or_cannot_begin() {
    let drop = changed(&same_bench("load = \"25 kg\"\nin_place = true"), "changeover = \"20 s\"\n", "");
    assert_eq!(told_of(FLOOR, &drop), [""; 0], "a drop set, with nowhere to go over to");
    let told = "programme.toml:16:1: group[1].block[1]: found exercises that need 2 stations at once, allowed what the floor has: not so many suit them (let one be done in place, or at other stations of the floor file)";
    assert_eq!(told_of(FLOOR, &same_bench("load = \"25 kg\"")), [told]);
}

/// A second bench with another bar: 15, 17 and 19 kg.
const LIGHT_BENCH: &str = "[[station]]\nkey = \"bench-2\"\nname = \"Bench 2\"\nat = [1, 1]\n[station.bar]\nbar = \"15 kg\"\ncollar = \"0 kg\"\nplates = [ { mass = \"1 kg\", count = 4 } ]\n[[station]]\nkey = \"mat\"";

#[test]
fn a_drop_set_needs_one_station_for_all_its_loads() {
    let floor = changed(FLOOR, "[[station]]\nkey = \"mat\"", LIGHT_BENCH);
    let told = told_of(&floor, &same_bench("load = \"17 kg\"\nin_place = true"));
    let expected = "programme.toml:21:7: group[1].block[1].exercise[1].use: found 17 kg, 20 kg, 25 kg and 40 kg for bench-press, allowed loads that one station for it can be set to, each exactly (a whole group does an exercise at one station)";
    assert_eq!(told, [expected]);
    // Without being in place it is done at the other bench.
    assert_eq!(told_of(&floor, &same_bench("load = \"17 kg\"")), [""; 0]);
}

#[test]
fn a_policy_that_a_block_can_never_meet_is_told() {
    let floor = with_head("[floor.policy]\nstations_a_coach = 1");
    let told = "programme.toml:16:1: group[1].block[1]: found exercises that need 2 stations at once, allowed 1: stations_a_coach in the floor file (take an exercise out, or let the floor file allow more)";
    assert_eq!(told_of(&floor, PROGRAMME), [told]);
}

#[test]
fn stations_kept_for_members_whenever_the_floor_is_open_are_no_groups() {
    let hours = |floor: &str, rule: &str| {
        let floor = if floor.is_empty() { String::new() } else { format!("[floor.hours]\n{floor}\n") };
        let rule =
            if rule.is_empty() { String::new() } else { format!("[floor.policy.members.hours]\n{rule}\n") };
        let members = "[[floor.policy.members]]\nstations = [\"row-1\", \"row-2\"]\nkeep =";
        (floor, members, rule)
    };
    let two_rows = "[[station]]\nkey = \"row-2\"\nname = \"Row 2\"\nat = [4, -3]\n[station.stack]\nfirst = \"5 kg\"\nstep = \"5 kg\"\nlast = \"50 kg\"\n[[coach]]";
    let floor = |keep: u8, floor: &str, rule: &str| {
        let (open, members, rule) = hours(floor, rule);
        let text = with_head(&format!("{open}{members} {keep}\n{rule}"));
        changed(&text, "[[coach]]", two_rows)
    };
    // One of two is left, and one is enough.
    assert_eq!(told_of(&floor(1, "", ""), PROGRAMME), [""; 0]);
    let all = |line: usize| {
        format!(
            "floor.toml:{line}:8: floor.policy.members[1].keep: found all 2 stations kept whenever the floor is open, allowed fewer, or some hours only: no group could ever have one for cable-row (take the exercise away, or keep fewer, or give the rule hours)"
        )
    };
    assert_eq!(told_of_floor(&floor(2, "", "")), [all(6)]);
    // By hours: those of the floor, in whatever parts they are said.
    let day = "daily = [\"06:00-22:00\"]";
    assert_eq!(told_of_floor(&floor(2, day, "daily = [\"06:00-12:00\", \"12:00-22:00\"]")), [all(8)]);
    assert_eq!(told_of_floor(&floor(2, day, "daily = [\"06:00-12:00\", \"12:01-22:00\"]")), [""; 0]);
    assert_eq!(told_of_floor(&floor(2, day, "daily = [\"06:00-22:00\"]\nsunday = []")), [""; 0]);
    assert_eq!(told_of_floor(&floor(2, "", day)), [""; 0]);
    assert_eq!(told_of_floor(&floor(2, "", "daily = [\"00:00-24:00\"]")), [all(6)]);
    // Two rows at once, of which one is never to be had.
    let press = "use = \"bench-press\"";
    let twice = changed(PROGRAMME, press, "use = \"cable-row\"");
    let told = told_of(&floor(1, "", ""), &twice);
    let expected = "group[1].block[1]: found exercises that need 2 of 2 stations of which 1 are kept for members whenever the floor is open, allowed 1: floor.policy.members in the floor file (take other exercises, or let the floor file keep fewer, or at some hours only)";
    assert!(matches!(told.as_slice(), [one] if one.ends_with(expected)), "{told:?}");
    assert_eq!(told_of(&floor(1, "", day), &twice), [""; 0]);
}

#[test]
fn what_an_exercise_wants_by_its_own_words_is_there() {
    let exercise =
        |fields: &str| changed(FLOOR, "key = \"push-up\"\n", &format!("key = \"push-up\"\n{fields}\n"));
    let told = "floor.toml:49:13: exercise[3].settings[1]: found \"bar-hight\", allowed none: what the stations of this exercise have (write it among the settings of a [[station]] by its name)";
    assert_eq!(told_of_floor(&exercise("settings = [\"bar-hight\"]")), [told]);
    let settings = "at = [0, 0]\nsettings = [ { name = \"Bar height\", values = [1, 2] }, { name = \"R\u{fc}cken\", values = [1, 2] } ]\n";
    let floor = |fields: &str| changed(&exercise(fields), "at = [0, 0]\n", settings);
    let told = "floor.toml:50:27: exercise[3].settings[2]: found \"bar-hight\", allowed \"bar-height\" or \"ruecken\": what the stations of this exercise have (did you mean \"bar-height\"?)";
    assert_eq!(told_of_floor(&floor("settings = [\"bar-height\", \"bar-hight\"]")), [told]);
    assert_eq!(told_of_floor(&floor("settings = [\"ruecken\"]")), [""; 0]);
    // What the catalogue says of it too no floor need have.
    assert_eq!(
        told_of_floor(&changed(FLOOR, "gear = \"bar\"\n", "gear = \"bar\"\nsettings = [\"safety-arms\"]\n")),
        [""; 0]
    );
    // Handles: of a floor that counts them.
    assert_eq!(told_of_floor(&exercise("handle = \"strap\"")), [""; 0]);
    let counted = |fields: &str| {
        changed(&exercise(fields), "[floor.emergency]", "[floor.handles]\nrope = 2\n[floor.emergency]")
    };
    let row = |text: &str| changed(text, "key = \"cable-row\"\n", "key = \"cable-row\"\nhandle = \"rope\"\n");
    let told = "floor.toml:52:10: exercise[3].handle: found \"strap\", allowed \"rope\": what floor.handles counts (count it in [floor.handles])";
    assert_eq!(told_of_floor(&row(&counted("handle = \"strap\""))), [told]);
    assert_eq!(told_of_floor(&row(&counted("handle = \"rope\""))), [""; 0]);
}

#[test]
fn handles_of_which_there_are_too_few_are_told() {
    let mut floor = read(FLOOR);
    let rope: Key = "rope".parse().unwrap();
    floor.exercises.get_mut(&ExerciseId(2)).unwrap().handle = Some(rope.clone());
    let told = |floor: &Floor| {
        parse_programme("programme.toml", PROGRAMME, floor).err().map_or(String::new(), |m| m.to_string())
    };
    assert_eq!(told(&floor), "", "what is not counted is never short");
    floor.handles.insert(rope.clone(), 1);
    assert_eq!(told(&floor), "");
    floor.handles.insert(rope, 0);
    assert_eq!(
        told(&floor),
        "programme.toml:16:1: group[1].block[1]: found exercises that want 1 of the handle rope, allowed 0: handles in the floor file (take another exercise, or count the handles anew)"
    );
}

#[test]
fn a_handle_that_no_exercise_wants_is_a_slip() {
    let text = changed(
        &with_head("[floor.handles]\nroep = 2"),
        "key = \"push-up\"\n",
        "key = \"push-up\"\nhandle = \"rope\"\n",
    );
    let told = "floor.toml:5:8: floor.handles.roep: found \"roep\", allowed the handle of an [[exercise]] of this file or of the catalogue's that it names (did you mean \"rope\"?)";
    assert_eq!(told_of_floor(&text), [told]);
    assert_eq!(told_of_floor(&changed(&text, "roep = 2", "rope = 2")), [""; 0]);
}

#[test]
fn a_spotted_exercise_needs_somebody_who_could_spot() {
    let alone = changed(&programme(), "clients = [104, 105]", "clients = [104]");
    let alone = changed(&alone, "own = [ { client = 105, reps = 8, load = \"25 kg\" } ]\n", "");
    let early =
        changed(&alone, "starts = \"18:00\"\nends = \"19:00\"", "starts = \"08:00\"\nends = \"09:00\"");
    assert_eq!(told_of(&floor(), &alone), [""; 0], "the coach is there");
    let nobody = "programme.toml:24:7: group[1].block[1].exercise[1].use: found bench-press, which is spotted, allowed what needs no spotter: nobody could be at the bar then (have two in the group, safety arms that are accepted, or a coach there)";
    let told = told_of(&floor(), &early);
    assert_eq!((told.len(), told[1].as_str()), (2, nobody), "{told:#?}");
    // Another coach is there, or safety arms are.
    let other = changed(&floor(), "[[coach]]", "[[coach]]\nkey = \"coach-2\"\nname = \"Bram\"\n[[coach]]");
    assert_eq!(told_of(&other, &early).len(), 1);
    let arms = changed(&floor(), "at = [2.0, 3.5]\n", "at = [2.0, 3.5]\narms = true\n");
    assert_eq!(told_of(&arms, &early).len(), 2, "nobody has accepted them");
    let accepted = changed(&arms, "[floor.policy]\n", "[floor.policy]\narms_accepted = true\n");
    assert_eq!(told_of(&accepted, &early).len(), 1);
}

#[test]
fn a_shift_while_the_floor_is_closed_is_told() {
    let text = with_head("[floor.hours]\ndaily = [\"06:00-12:00\"]\nsunday = [\"14:00-16:00\"]");
    let shift =
        |shift: &str| changed(&text, "name = \"Ayla\"", &format!("name = \"Ayla\"\nshift = \"{shift}\""));
    let told = "floor.toml:37:9: coach[1].shift: found 16:00-22:00, allowed a shift that has some of the opening hours in it";
    assert_eq!(told_of_floor(&shift("16:00-22:00")), [told]);
    assert_eq!(told_of_floor(&shift("15:59-22:00")), [""; 0], "there on Sundays");
}
