// A length in words, as the server shows it (base/display.py): to the nearest sixteenth of an inch, and in metres.
const SIXTEENTH = 0.0254 / 16; // m
const PARTS = 192; // sixteenths of a foot

export function inFeet(metres) {
  const sixteenths = even(Math.abs(metres) / SIXTEENTH);
  const [feet, rest] = [Math.floor(sixteenths / PARTS), sixteenths % PARTS];
  const [inches, part] = [Math.floor(rest / 16), rest % 16];
  const shared = part & -part;
  const said = [inches || "", part ? `${part / shared}/${16 / shared}` : ""].filter(Boolean).join("-");
  const words = [feet ? `${feet} ft` : "", said ? `${said} in` : ""].filter(Boolean).join(" ");
  return (metres < 0 && sixteenths ? "-" : "") + (words || "0 in");
}

export function inMetres(metres) {
  if (Math.abs(metres) >= 1) return `${metres.toFixed(3)} m`;
  const millimetres = metres * 1000;
  return `${Math.abs(millimetres) >= 10 ? even(millimetres) : Number(millimetres.toPrecision(2))} mm`;
}

// In both systems of units, the reader's own first.
export function inBoth(metres, units) {
  const [first, second] = units === "us" ? [inFeet(metres), inMetres(metres)] : [inMetres(metres), inFeet(metres)];
  return `${first} = ${second}`;
}

// Halves go to the even number, as on the server.
function even(number) {
  const low = Math.floor(number);
  const over = number - low;
  return over === 0.5 ? low + (low % 2) : Math.round(number);
}
