// Search by text, and filters by customer and status: what does not match steps back.

import { make } from "./elements.js";

export class Filter {
  constructor(bar, onChange) {
    this.text = make("input", "search");
    this.text.type = "search";
    this.customer = make("select");
    this.status = make("select");
    this.count = make("span", "count");
    this.count.setAttribute("role", "status");
    bar.append(this.text, this.customer, this.status, this.count);
    for (const field of [this.text, this.customer, this.status]) {
      field.addEventListener("input", onChange);
    }
  }

  fill(words, checks) {
    this.words = words;
    this.text.placeholder = words.search;
    this.text.setAttribute("aria-label", words.search);
    options(this.customer, words.allCustomers, checks.map((one) => one.customer));
    options(this.status, words.allStatuses, checks.map((one) => one.status));
  }

  get isOn() {
    return Boolean(this.text.value.trim() || this.customer.value || this.status.value);
  }

  takes(one) {
    const asked = this.text.value.trim().toLocaleLowerCase();
    return (
      (!asked || one.told.join("\n").toLocaleLowerCase().includes(asked)) &&
      (!this.customer.value || one.customer === this.customer.value) &&
      (!this.status.value || one.status === this.status.value)
    );
  }

  tell(found, all) {
    this.count.textContent = this.isOn
      ? this.words.found.replace("#", found).replace("##", all)
      : "";
  }
}

function options(select, all, values) {
  const before = select.value;
  const known = [...new Set(values.filter(Boolean))].sort((one, other) => one.localeCompare(other));
  const made = [["", all], ...known.map((value) => [value, value])].map(([value, text]) => {
    const option = make("option", "", text);
    option.value = value;
    return option;
  });
  select.replaceChildren(...made);
  select.setAttribute("aria-label", all);
  select.hidden = known.length < 2;
  select.value = known.includes(before) ? before : "";
}
