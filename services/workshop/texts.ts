/** Texts of files that hold figures, in the units asked for: "back by 25 mm" reads "back by 1 in". */
import { displayUnit, findUnit, fromUnit, toUnit } from '../units/index.ts';
import type { System } from './show.ts';

/** A figure, or two with `to` or `and` between, and a unit that has a counterpart. What is not one of these stays as it is. */
const FIGURE = /(?<![\w.])(\d+(?:\.\d+)?)(?: (to|and) (\d+(?:\.\d+)?))? (mm|km\/h|km|m|kg|kPa|Nm|kN)(?![\w/])/g;

/** Metric figures as US ones, to two significant figures: those of texts are round, and no better known. */
export function textIn(text: string, system: System): string {
  if (system === 'metric') return text;
  return text.replace(FIGURE, (whole, first: string, word: string | undefined, second: string | undefined, symbol: string) => {
    const unit = findUnit(symbol);
    const shown = unit && displayUnit(unit, system);
    if (!unit || !shown || shown === unit) return whole;
    const print = (figure: string): string => String(Number(toUnit(fromUnit(Number(figure), unit), shown).toPrecision(2)));
    return `${print(first)}${word !== undefined && second !== undefined ? ` ${word} ${print(second)}` : ''} ${shown.symbol}`;
  });
}
