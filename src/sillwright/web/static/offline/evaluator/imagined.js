// A member of a list that is not known: what it would have to be, the rest open.
export class Imagined {
  constructor({ path, group, facts }) {
    Object.assign(this, { path, group, facts: new Map(Object.entries(facts)) });
  }
}
