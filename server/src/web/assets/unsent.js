// Taps that wait for the link, kept while the page is closed: one entry a tap, so that two pages of one coach do not write
// over each other. What both send has one effect, for it carries one id.

const PREFIX = "turnabout.unsent";

/** The taps of a topic in a browser's storage. Where that is full or forbidden they live as long as the page. */
export function unsentStore(storage, topic) {
  const mine = `${PREFIX}/${topic}/`;
  const quietly = (change) => {
    try {
      change();
    } catch {
      // The tap is in the page's memory all the same.
    }
  };
  return {
    /** In the order of the taps; what cannot be read is dropped. */
    all() {
      const keys = Array.from({ length: storage.length }, (_, n) => storage.key(n)).filter((key) => key.startsWith(mine));
      const commands = keys.map((key) => [key, read(storage.getItem(key))]);
      commands.filter(([, command]) => command === null).forEach(([key]) => storage.removeItem(key));
      return commands.flatMap(([, command]) => (command === null ? [] : [command])).sort((a, b) => a.at - b.at);
    },
    put: (command) => quietly(() => storage.setItem(mine + command.id, JSON.stringify(command))),
    drop: (id) => quietly(() => storage.removeItem(mine + id)),
  };
}

function read(text) {
  try {
    const command = JSON.parse(text);
    const whole = typeof command?.id === "string" && Number.isInteger(command.at) && typeof command.act?.do === "string";
    return whole ? command : null;
  } catch {
    return null;
  }
}
