// Runs before all other modules are there: opens the socket and says hello, so that the first view comes meanwhile.
// The link takes the socket over with whatever has come through it.

import { BOARD, helloFrame, ofCoach, openSocket } from "./hello.js";
import { whoAmI } from "./me.js";

/** A page that takes so many frames to be there begins anew with a socket of its own. */
const MOST = 64;

let early = open(watched());

/** What the page at this address watches; null where it has to ask first who is there. */
function watched() {
  if (location.pathname === "/board") return BOARD;
  const me = whoAmI();
  return me === null ? null : ofCoach(me);
}

function open(what) {
  if (what === null) return null;
  const socket = openSocket();
  const frames = [];
  const giveUp = () => {
    socket.onopen = socket.onmessage = socket.onclose = null;
    socket.close();
    early = null;
  };
  socket.onopen = () => socket.send(JSON.stringify(helloFrame(what)));
  socket.onmessage = ({ data }) => (frames.length < MOST ? frames.push(data) : giveUp());
  socket.onclose = giveUp;
  return { topic: what.topic, socket, frames };
}

/** The socket that watches this topic already, `{ socket, frames }`, once; null where there is none. */
export function takeEarly(topic) {
  const taken = early?.topic === topic ? early : null;
  if (taken) early = null;
  return taken;
}
