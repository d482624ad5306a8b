// The grader's rules as the page's data carries them: thresholds, orders of trial, lists of words, patterns. None of
// them stands in the program: what this page was made with is what it judges by.

import { Rational } from "./rational.js";

/** A pattern of the grader's, and the ways it is used there. */
class Pattern {
  constructor({ pattern, flags = "" }) {
    Object.assign(this, { pattern, flags });
  }

  get anywhere() {
    this.found ??= new RegExp(this.pattern, `${this.flags}gu`);
    this.found.lastIndex = 0;
    return this.found;
  }

  /** The match that starts at a place of a text; null for none. */
  match(text, at = 0) {
    this.here ??= new RegExp(this.pattern, `${this.flags}yu`);
    this.here.lastIndex = at;
    return text.match(this.here);
  }

  /** The match that is the whole text. */
  fullmatch(text) {
    this.whole ??= new RegExp(`^(?:${this.pattern})$`, `${this.flags}u`);
    return text.match(this.whole);
  }

  /** The first match in a text. */
  search(text) {
    this.first ??= new RegExp(this.pattern, `${this.flags}u`);
    return text.match(this.first);
  }

  all(text) {
    return [...text.matchAll(this.anywhere)];
  }

  split(text) {
    return text.split(this.anywhere);
  }

  /** The text with each match replaced: by a text, where "\1" stands for a group, or by what a function makes of it. */
  sub(by, text) {
    return text.replace(this.anywhere, typeof by === "string" ? by.replaceAll(/\\([0-9])/g, "$$$1") : by);
  }
}

function revived(rule) {
  if (Array.isArray(rule)) return rule.map(revived);
  if (typeof rule !== "object") return rule;
  if ("pattern" in rule) return new Pattern(rule);
  if ("exact" in rule) return Rational.of(rule.exact);
  if ("set" in rule) return new Set(rule.set);
  return new Map(Object.entries(rule.map).map(([key, value]) => [key, revived(value)]));
}

/** The rules by the module that reads them: `rules.numerals.mantissa`. Empty until the page's data were taken. */
export const rules = {};

/** Take the rules out of the page's data. */
export function useRules(table) {
  for (const [name, own] of Object.entries(table)) {
    rules[name] = Object.fromEntries(Object.entries(own).map(([key, rule]) => [key, revived(rule)]));
  }
}
