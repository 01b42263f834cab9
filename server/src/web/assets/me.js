// Which coach a page belongs to: said in its address, and kept on the device from then on.

const ME = "turnabout.me";
/** A key as floor files write it. */
const KEY = /^[a-z][a-z0-9-]{0,31}$/;

/** The coach's key from the address, or the one kept from last time, or null when the page must ask. */
export function whoAmI() {
  const asked = new URLSearchParams(location.search);
  if (asked.has("choose")) return null;
  const me = asked.get("me") ?? localStorage.getItem(ME);
  if (me === null || !KEY.test(me)) return null;
  localStorage.setItem(ME, me);
  if (!asked.has("me")) history.replaceState(null, "", addressOf(me));
  return me;
}

/** This page for a coach. */
export function addressOf(key) {
  const asked = new URLSearchParams(location.search);
  asked.delete("choose");
  asked.set("me", key);
  return `${location.pathname}?${asked}`;
}
