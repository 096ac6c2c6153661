/**
 * Findings that rest on defaults of the class: they say what is likely, and which readings decide. A default is wide enough
 * to be true of any vehicle of its class, and says little of this one.
 */
import type { AtomResult, Evaluation } from '../engine/evaluate.ts';
import type { VehicleWorld } from '../vehicle/world.ts';
import type { Leaning, OnDefaults } from './answer.ts';
import { normal } from './chance.ts';
import { type Deciding, restsOnDefaults } from './deciding.ts';

/** What part of the doubt defaults must cause for a finding to rest on them. */
const RESTS = 0.5;

export function onDefaults(evaluation: Evaluation, { readings }: Deciding, world: VehicleWorld): OnDefaults | undefined {
  const { verdict, controlling } = evaluation;
  if (verdict !== 'conflict' && verdict !== 'close') return undefined;
  const share = (controlling?.doubt ?? []).reduce((sum, { slot, share: part }) => sum + (isDefault(slot, world) ? part : 0), 0);
  if (share < RESTS) return undefined;
  return { share: Math.round(share * 1000) / 1000, decide: readings };
}

/** A default itself, or a model's error that defaults of a drawing are folded into. */
const isDefault = (slot: number, world: VehicleWorld): boolean => restsOnDefaults(slot, world, [...world.values.node(slot).folded]);

/** A way is called likely from this chance on. */
const LEANS = 0.75;

/** Which way a margin leans by its band by root sum of squares, which nineteen in twenty keep to: a nominal near nothing is told as even. */
export function leanOf({ margin, low, high, rss }: AtomResult): Leaning {
  const within = rss ? (rss.high - rss.low) / 2 : (high - low) / 2;
  const chance = within > 0 ? normal((2 * margin) / within) : 1;
  return chance >= LEANS ? 'likely met' : chance <= 1 - LEANS ? 'likely not met' : 'as likely met as not';
}
