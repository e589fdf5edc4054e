// What each protective device counts for with this operator. The twin of duty/devices.py; its links are left out.

const ASKED = ["works", "watched", "listed", "monitored"];

// Three values as the words of the answer.
export const answerOf = (value) => (value === null ? "unknown" : value ? "yes" : "no");

export function deviceStandings(kleene, opening) {
  return opening.get("protection").items.map((device) => {
    const bound = kleene.bind("p", device);
    const said = ASKED.map((name) => [name, answerOf(bound.value(["call", name, ["path", ["p"]]]))]);
    return { fact: device.path, kind: device.get("kind").value ?? "unknown", ...Object.fromEntries(said) };
  });
}
