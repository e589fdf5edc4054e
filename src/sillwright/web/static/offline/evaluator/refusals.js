// Why something has no value: what was typed is a mistake, or it is beyond what a phone can tell.

// A text that the server would refuse as well.
export class Refused extends Error {}

// Only the server can tell. Whatever rests on it has no answer here: an answer is never guessed.
export class CannotTell extends Error {}
