/** The whole answer with its tolerances against the same answer as if everything were exact: the search for bands left out. */
import { type Band, Bands } from '../../services/engine/band.ts';
import { checker, demoBuild, demoCatalogue } from '../../services/workshop/testing.ts';
import { rate, report, timeAll } from './timing.ts';

const EXACT = { rss: undefined, worst: new Map(), best: new Map(), doubt: [], folded: 0 } as const;

/** Every band as narrow as a number. */
function asIfExact<T>(ask: () => T): T {
  const { search, of } = Bands.prototype;
  Bands.prototype.search = (_, margin): Band => {
    const nominal = margin();
    return { ...EXACT, nominal, low: nominal, high: nominal };
  };
  Bands.prototype.of = (): Band => ({ ...EXACT, nominal: 0, low: 0, high: 0 });
  try {
    return ask();
  } finally {
    Object.assign(Bands.prototype, { search, of });
  }
}

export function benchUncertainty(): void {
  const build = demoBuild('bold');
  const answer = (): unknown => checker.check(build as never, demoCatalogue);
  const { uncertain, certain } = timeAll({ uncertain: answer, certain: () => asIfExact(answer) });
  report(
    'the answer with its tolerances, against the same as if exact',
    uncertain.rate / certain.rate,
    0.1,
    `${rate(uncertain.rate)} against ${rate(certain.rate)}`,
  );
}
