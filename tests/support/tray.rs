//! A tray as a desktop has one: it takes the icon's registration, reads its menu and presses what stands there.

use crate::bus::Bus;
use crate::window::until;
use dbus::arg::{PropMap, RefArg, Variant};
use dbus::blocking::Connection;
use dbus::blocking::stdintf::org_freedesktop_dbus::Properties;
use dbus::channel::{Channel, MatchingReceiver};
use dbus::message::MatchRule;
use dbus_crossroads::{Context, Crossroads};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::thread::JoinHandle;
use std::time::Duration;

const NAME: &str = "org.kde.StatusNotifierWatcher";
const MENU: &str = "com.canonical.dbusmenu";
const PATIENCE: Duration = Duration::from_secs(5);

/// The tray. Its items are (bus name, path).
pub struct Tray {
    items: Arc<Mutex<Vec<(String, String)>>>,
    end: Arc<AtomicBool>,
    thread: Option<JoinHandle<()>>,
    asking: Connection,
}

fn connect(bus: &Bus) -> Connection {
    let mut channel = Channel::open_private(&bus.address).expect("the bus answers");
    channel.register().expect("the bus lets us in");
    Connection::from(channel)
}

impl Tray {
    /// Takes its name on the bus.
    pub fn new(bus: &Bus) -> Tray {
        let items = Arc::new(Mutex::new(Vec::new()));
        let end = Arc::new(AtomicBool::new(false));
        let connection = connect(bus);
        connection.request_name(NAME, false, true, false).expect("the name is free");
        let (told, ended) = (Arc::clone(&items), Arc::clone(&end));
        let thread = std::thread::spawn(move || serve(&connection, told, &ended));
        Tray { items, end, thread: Some(thread), asking: connect(bus) }
    }

    /// Waits until an icon registered itself.
    pub fn wait_for_item(&self) -> (String, String) {
        until("an icon in the tray", || !self.items.lock().expect("no panic before").is_empty());
        self.items.lock().expect("no panic before")[0].clone()
    }

    /// The menu: id and words of each line.
    fn menu(&self) -> (String, String, Vec<(i32, String)>) {
        let (name, path) = self.wait_for_item();
        let item = self.asking.with_proxy(&name, path, PATIENCE);
        let menu: dbus::Path = item.get("org.kde.StatusNotifierItem", "Menu").expect("the icon has a menu");
        let proxy = self.asking.with_proxy(&name, menu.clone(), PATIENCE);
        type Node = (i32, PropMap, Vec<Variant<Box<dyn RefArg>>>);
        let asked = (0_i32, -1_i32, Vec::<String>::new());
        let (_, (_, _, lines)): (u32, Node) = proxy.method_call(MENU, "GetLayout", asked).expect("its lines");
        let lines = lines.iter().map(|line| {
            let mut fields = line.0.as_iter().expect("id, properties, children");
            let id = fields.next().and_then(|id| id.as_i64()).expect("an id") as i32;
            let mut words = fields.next().expect("properties").as_iter().expect("pairs");
            let mut label = String::new();
            while let (Some(key), Some(value)) = (words.next(), words.next()) {
                if key.as_str() == Some("label") {
                    label =
                        value.as_iter().and_then(|mut one| one.next()?.as_str().map(str::to_owned)).unwrap_or_default();
                }
            }
            (id, label)
        });
        (name.clone(), menu.to_string(), lines.collect())
    }

    /// What stands in the menu.
    pub fn words(&self) -> Vec<String> {
        self.menu().2.into_iter().map(|(_, label)| label).collect()
    }

    /// Presses a line of it.
    pub fn press(&self, word: &str) {
        let (name, path, lines) = self.menu();
        let (id, _) = lines.iter().find(|(_, label)| label == word).unwrap_or_else(|| panic!("{word}: {lines:?}"));
        let proxy = self.asking.with_proxy(name, path, PATIENCE);
        let event = (*id, "clicked", Variant(0_i32), 0_u32);
        // The program may end before it answers.
        let _: Result<(), dbus::Error> = proxy.method_call(MENU, "Event", event);
    }
}

impl Drop for Tray {
    fn drop(&mut self) {
        self.end.store(true, Ordering::Relaxed);
        let _ = self.thread.take().map(JoinHandle::join);
    }
}

fn serve(connection: &Connection, items: Arc<Mutex<Vec<(String, String)>>>, ended: &AtomicBool) {
    let mut cross = Crossroads::new();
    let token = cross.register(NAME, move |watcher| {
        let told = Arc::clone(&items);
        watcher.method(
            "RegisterStatusNotifierItem",
            ("item",),
            (),
            move |context: &mut Context, _: &mut (), (item,): (String,)| {
                // Some give their bus name, some the path of their object.
                let sender = context.message().sender().map(|name| name.to_string()).unwrap_or_default();
                let path = if item.starts_with('/') { item } else { "/StatusNotifierItem".to_owned() };
                told.lock().expect("no panic before").push((sender, path));
                Ok(())
            },
        );
        watcher.method("RegisterStatusNotifierHost", ("host",), (), |_, (), (_,): (String,)| Ok(()));
        watcher.property("IsStatusNotifierHostRegistered").get(|_, ()| Ok(true));
        watcher.property("ProtocolVersion").get(|_, ()| Ok(0_i32));
        watcher.property("RegisteredStatusNotifierItems").get(|_, ()| Ok(Vec::<String>::new()));
    });
    cross.insert("/StatusNotifierWatcher", &[token], ());
    connection.start_receive(
        MatchRule::new_method_call(),
        Box::new(move |message, connection| {
            let _ = cross.handle_message(message, connection);
            true
        }),
    );
    while !ended.load(Ordering::Relaxed) {
        if connection.process(Duration::from_millis(20)).is_err() {
            return;
        }
    }
}
