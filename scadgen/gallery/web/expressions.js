// Values of the expressions in a family's data: see scadgen/trees/to_data.py for the rows.
import { FUNCTIONS, OPERATORS } from "./functions.js";

const compiled = new WeakMap(); // by the table of a family, a function for each row

// Values where each symbol stands for a number; a named value is worked out once.
export class Numbers {
  constructor(data, symbols, outer = null) {
    this.data = data;
    this.symbols = outer ? Object.assign(Object.create(outer.symbols), symbols) : { ...symbols };
    this.own = outer ? Object.keys(symbols) : [];
    this.outer = outer;
    this.named = new Map();
    if (!compiled.has(data.expressions)) compiled.set(data.expressions, data.expressions.map(reader));
    this.readers = compiled.get(data.expressions);
  }

  // The value of the expression in a row.
  value(row) {
    return this.readers[row](this);
  }

  // The same numbers with more symbols, as inside a module or a loop.
  within(symbols) {
    return new Numbers(this.data, symbols, this);
  }

  // A named value, worked out in the outermost numbers that give it the same value.
  let(row, inner, free) {
    let home = this;
    while (home.outer && !home.own.some((name) => free.includes(name))) home = home.outer;
    if (!home.named.has(row)) home.named.set(row, home.readers[inner](home));
    return home.named.get(row);
  }
}

function reader([kind, ...said], row) {
  switch (kind) {
    case "number":
      return () => said[0];
    case "symbol":
      return said[0] === "PI" ? () => Math.PI : (numbers) => symbol(numbers, said[0]);
    case "let": {
      const [, inner, free] = said;
      return (numbers) => numbers.let(row, inner, free);
    }
    case "operator":
      return applied(OPERATORS, said);
    case "call":
      return applied(FUNCTIONS, said);
    case "where": {
      const [cond, yes, no] = said;
      return (numbers) => numbers.value(numbers.value(cond) ? yes : no);
    }
    case "rows":
      return () => said[0];
    case "cell": {
      const [table, line, column] = said;
      return (n) => n.value(table)[Math.trunc(n.value(line))][Math.trunc(n.value(column))];
    }
  }
  throw new Error(`no value for ${kind}`);
}

function symbol(numbers, name) {
  const value = numbers.symbols[name];
  if (value === undefined) throw new Error(`no value for the symbol ${name}`);
  return value;
}

function applied(table, [name, ...args]) {
  const work = table[name];
  if (!work) throw new Error(`no function ${name}`);
  const [one, other] = args;
  if (args.length === 1) return (n) => work(n.value(one));
  if (args.length === 2) return (n) => work(n.value(one), n.value(other));
  return (n) => work(...args.map((arg) => n.value(arg)));
}
