// Days of the board as people read them. A day is a number, counted from the first day of the board,
// so no time zone and no summer time comes between.

const DAY_MS = 86400000;

export class Dates {
  constructor(first, words) {
    this.origin = Date.parse(`${first}T00:00:00Z`);
    this.words = words;
  }

  date(number) {
    return new Date(this.origin + number * DAY_MS);
  }

  iso(number) {
    return this.date(number).toISOString().slice(0, 10);
  }

  // "Mon 4 Jan 2027"
  told(number) {
    return `${this.short(number)} ${this.date(number).getUTCFullYear()}`;
  }

  // "Mon 4 Jan"
  short(number) {
    return `${this.weekday(number)} ${this.dayAndMonth(number)}`;
  }

  // "4 Jan"
  dayAndMonth(number) {
    const date = this.date(number);
    return `${date.getUTCDate()} ${this.words.months[date.getUTCMonth()].slice(0, 3)}`;
  }

  weekday(number) {
    return this.words.weekdays[(this.date(number).getUTCDay() + 6) % 7];
  }

  dayOfMonth(number) {
    return this.date(number).getUTCDate();
  }

  isMonday(number) {
    return this.date(number).getUTCDay() === 1;
  }

  // "January 2027"
  month(number) {
    const date = this.date(number);
    return `${this.words.months[date.getUTCMonth()]} ${date.getUTCFullYear()}`;
  }
}
