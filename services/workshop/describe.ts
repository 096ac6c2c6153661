/** Words for the things an answer speaks of: places, parts, pairs of parts, templates filled in. */
import { type Frame, number, unlessEmpty } from '../engine/interpret.ts';
import type { Library, Num, Scope, TemplatePiece } from '../engine/tree.ts';
import { signatureOf, type VehicleWorld } from '../vehicle/world.ts';
import type { AnswerPart } from './answer.ts';
import { prose, type System, show } from './show.ts';

const SIDES = /^(.*?) (left|right)$/;

/** `front left and right`, `front axle and rear axle`: places joined as people say them. */
export function joinPlaces(places: readonly string[]): string {
  const unique = [...new Set(places)];
  const sides = unique.map((place) => SIDES.exec(place));
  const ends = new Set(sides.map((match) => match?.[1]));
  if (unique.length === 4 && sides.every(Boolean) && ends.size === 2) return 'all four corners';
  if (unique.length === 2 && sides.every(Boolean) && ends.size === 1) return `${sides[0]?.[1]} left and right`;
  return joinWords(unique);
}

/** As within a sentence. */
export const lowerFirst = (text: string): string => text.replace(/^./, (letter) => letter.toLowerCase());

export const upperFirst = (text: string): string => text.replace(/^./, (letter) => letter.toUpperCase());

export const joinWords = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

/** What several subjects in the same role are called: the part's name with its places, or the places. */
export function nameSubjects(subjects: readonly number[], world: VehicleWorld): string {
  const unique = [...new Set(subjects)];
  const parts = unique.map((subject) => world.partOf(subject)).filter((part) => part !== undefined);
  const placeNames = unique.map((subject) => world.placeName(subject)).filter((place) => place !== 'vehicle');
  const where = joinPlaces(placeNames);
  if (parts.length === 0) return where === '' ? '' : `the ${where}`;
  const names = joinWords([...new Set(parts.map(({ name }) => name))]);
  return where === '' ? names : `${names} (${where})`;
}

export function describePart(subject: number, world: VehicleWorld): AnswerPart | undefined {
  const part = world.partOf(subject);
  return part && { id: part.id, kind: part.kind, name: part.name, at: part.place };
}

/** The unit people use for a number, from the first value of that dimension in it. */
export function unitOf(node: Num, scope: Scope, library: Library, givenUnits: ReadonlyMap<string, string> = new Map()): string | undefined {
  switch (node.op) {
    case 'leaf':
      return node.depth === 0 ? signatureOf(library, scope.leaves[node.leaf]?.name ?? '')?.unit : undefined;
    case 'local':
      return givenUnits.get(node.name) ?? unitOf(node.a, scope, library, givenUnits);
    case 'fold': {
      const fold = scope.folds[node.fold];
      return fold?.body && node.depth === 0 && 'dimension' in fold.body ? unitOf(fold.body, fold.scope, library, givenUnits) : undefined;
    }
    case 'constant':
    case 'parameter':
      return undefined;
    default: {
      const operands: readonly Num[] = 'args' in node ? node.args : 'b' in node ? [node.a, node.b] : [node.a];
      return operands
        .filter((operand) => operand.dimension === node.dimension)
        .map((operand) => unitOf(operand, scope, library, givenUnits))
        .find((unit) => unit !== undefined);
    }
  }
}

export interface Filling {
  readonly frame: Frame;
  readonly world: VehicleWorld;
  readonly system: System;
  readonly scope: Scope;
  readonly givenUnits?: ReadonlyMap<string, string>;
  /** Name of what the reference stands for; findings about several sides name them all. */
  nameOf(ref: Extract<TemplatePiece, { is: 'subject' }>['of']): string;
  /** The controlling margin, and the unit it is shown in. */
  readonly margin?: { readonly value: number; readonly unit: string | undefined; readonly of: Num };
}

/** Fills in a template. What is not known says so; a sentence or a clause behind a semicolon of which nothing is known is left out. */
export function fill(pieces: readonly TemplatePiece[], filling: Filling): string {
  const clauses = clausesOf(pieces);
  const told = clauses.filter((clause) => !isUnknown(clause, filling));
  const written = (those: readonly TemplatePiece[][]): string =>
    those.map((clause) => clause.map((piece) => fillPiece(piece, filling)).join('')).join('');
  return told.length === clauses.length || told.length === 0 ? written(clauses) : written(told).replace(/[;.] *$/, '');
}

/** Cut behind `. ` and `; `. */
function clausesOf(pieces: readonly TemplatePiece[]): TemplatePiece[][] {
  const clauses: TemplatePiece[][] = [[]];
  for (const piece of pieces.flatMap((one) => (one.is === 'words' ? wordsOf(one.words) : [one]))) {
    const before = clauses.at(-1)?.at(-1);
    if (before?.is === 'words' && ENDS.test(before.words)) clauses.push([]);
    clauses.at(-1)?.push(piece);
  }
  return clauses;
}

const ENDS = /[.;] $/;
const wordsOf = (text: string): TemplatePiece[] => text.split(/(?<=[.;] )/).map((words) => ({ is: 'words', words }));

/** It has values to tell, and none of them is known. */
function isUnknown(clause: readonly TemplatePiece[], { frame, world }: Filling): boolean {
  const values = clause.filter(
    (piece) => piece.is === 'number' || piece.is === 'text' || piece.is === 'margin' || piece.is === 'shortfall',
  );
  return (
    values.length > 0 &&
    values.every((piece) => {
      if (piece.is === 'number') return Number.isNaN(unlessEmpty(() => number(piece.of, frame)));
      return piece.is === 'text' && piece.of.is === 'leaf' && world.values.textOf(frame.leaf(piece.of.leaf)) === undefined;
    })
  );
}

function fillPiece(piece: TemplatePiece, filling: Filling): string {
  const { frame, world, system, scope, givenUnits, margin } = filling;
  switch (piece.is) {
    case 'words':
      return prose(piece.words, system);
    case 'subject':
      return filling.nameOf(piece.of);
    case 'text':
      return piece.of.is === 'literal' ? piece.of.value : (world.values.textOf(frame.leaf(piece.of.leaf)) ?? 'unknown');
    case 'number': {
      const value = unlessEmpty(() => number(piece.of, frame));
      if (Number.isNaN(value)) return 'an unknown amount';
      const shown = show(piece.unit ?? unitOf(piece.of, scope, world.library, givenUnits), piece.of.dimension, system);
      return piece.turns ? `${shown.text(Math.abs(value))} ${piece.turns[value < 0 ? 1 : 0]}` : shown.text(value);
    }
    default: {
      if (!margin || !Number.isFinite(margin.value)) return 'an unknown amount';
      const shown = show(piece.unit ?? margin.unit, margin.of.dimension, system);
      return piece.is === 'margin' ? shown.text(margin.value, 'down') : shown.text(-margin.value, 'up');
    }
  }
}
