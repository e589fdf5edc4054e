// Lengths as the trade rounds them, and what is above what by more than round-off. The twin of takeoff/measures.py.
// "table" is the book's part of the take-off.

// The quarter inch at or below a length; a length that is a quarter up to round-off keeps it. The division by whole
// numbers gives the number nearest to the exact fraction, as the server's.
export function down({ quarter: [over, under], round_off: off }, length) {
  return (Math.floor((length + off) / (over / under)) * over) / under;
}

export const above = (table, value, limit) => value > limit + table.round_off;
