//! A peer that says hello, reads nothing, and is never heard of again.

use futures_util::SinkExt;
use tokio_tungstenite::tungstenite::Message;
use turnabout_protocol::frame::{PROTOCOL, ToServer};
use turnabout_protocol::ids::DeviceId;
use turnabout_protocol::role::{Role, Topic};
use turnabout_server::demo::dice::Dice;

use crate::network::{Ear, id, open};
use crate::pause::pause;
use crate::plan::range;

/// Runs for ever: a peer that hangs for a while, is gone without a word, and comes again as another.
pub(crate) async fn run(mut dice: Dice) -> turmoil::Result {
    loop {
        pause(range(&mut dice, 100, 3_000)).await;
        let ear = Ear::default();
        let Some(mut socket) = open(ear.clone()).await else { continue };
        ear.shut(true);
        let device = DeviceId(id(&mut dice));
        let hello = ToServer::Hello { protocol: PROTOCOL, device, role: Role::Board, topic: Topic::Board };
        let text = serde_json::to_string(&hello).expect("plain JSON");
        // Whether that arrives is the same to it.
        let _ = socket.send(Message::text(text)).await;
        pause(range(&mut dice, 1_000, 20_000)).await;
        // No goodbye: the connection stays as it is, and the server has to find out by itself.
        std::mem::forget(socket);
    }
}
