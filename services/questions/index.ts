export { compose, type Format, leastLength } from './compose.ts';
export { type Judged, judge, nearnessIn, type ShortVerdict } from './judge.ts';
export { type Lexicon, loadLexicon } from './lexicon.ts';
export { namesIn, type Question, type Reading, readQuestion } from './read.ts';
export { clauseAround, idsIn, type NamedPart } from './read-catalogue.ts';
export { type NamedVehicle, type Run, textOf } from './read-vehicle.ts';
export { plainText } from './tidy.ts';
