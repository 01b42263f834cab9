// How a page begins to speak with the server: where the socket is, and the first frame, which says who asks for what.

/** The version of the wire format, as `frame::PROTOCOL`. */
const PROTOCOL = 2;

/** What the wall board watches, and what a coach's page does. */
export const BOARD = { role: { is: "board" }, topic: "board" };
export const ofCoach = (me) => ({ role: { is: "coach", coach: me }, topic: `coach/${me}` });

/** A new socket to the page's own server. */
export const openSocket = () => new WebSocket(`${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/socket`);

/** The first frame of a page that watches such a topic in such a role. */
export const helloFrame = ({ role, topic }) => ({ frame: "hello", protocol: PROTOCOL, device: deviceId(), role, topic });

/** A random UUID. Unlike `crypto.randomUUID` this also works on a page without TLS in a gym's own network. */
export function uuid() {
  const b = crypto.getRandomValues(new Uint8Array(16));
  b[6] = (b[6] & 0x0f) | 0x40;
  b[8] = (b[8] & 0x3f) | 0x80;
  const hex = [...b].map((x) => x.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

/** The device's own id, made once and kept. */
function deviceId() {
  const kept = localStorage.getItem("turnabout.device");
  if (kept) return kept;
  const made = uuid();
  localStorage.setItem("turnabout.device", made);
  return made;
}
