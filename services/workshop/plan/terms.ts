/** Faults of the shop's terms that their form does not show: names that are nothing, groups that overlap. */
import type { Library } from '../../engine/tree.ts';
import { type Faults, suggestFrom } from '../../vehicle/faults.ts';
import type { PartInput } from '../../vehicle/request.ts';
import type { PlanRequest } from './request.ts';

/** Orders that are weighed grow as the factorial of their groups. */
export const MOST_GROUPS_WEIGHED = 4;

export function checkTerms({ estimate, stages, parts = [], turned_up }: PlanRequest, { skills, works }: Library, faults: Faults): void {
  for (const skill of Object.keys(estimate?.labour ?? {}))
    if (skill !== 'default' && !skills.has(skill))
      faults
        .in('estimate', 'labour', skill)
        .add('SKILL_UNKNOWN', `there is no skill \`${skill}\``, suggestFrom(skill, ['default', ...skills.keys()]));
  for (const name of Object.keys(estimate?.sent_out ?? {}))
    if (!works.has(name.split(':')[0] as string))
      faults
        .in('estimate', 'sent_out', name)
        .add('WORK_UNKNOWN', `there is no work \`${name}\``, suggestFrom(name, works.keys(), '/v1/works'));
  const idOf = (part: PartInput): string => part.id ?? (part.from === 'catalogue' ? part.part : part.kind);
  const ids = new Set(parts.map(idOf));
  const known = new Set([...ids, ...(turned_up?.parts ?? []).map(idOf)]);
  for (const id of Object.keys(estimate?.parts ?? {}))
    if (!known.has(id))
      faults.in('estimate', 'parts', id).add('PART_NOT_PLANNED', `\`${id}\` is no planned part of this build`, suggestFrom(id, known));
  const bought = new Set([...works.values()].flatMap(({ planning }) => planning.parts));
  for (const name of Object.keys(estimate?.buys ?? {}))
    if (!bought.has(name.slice(name.lastIndexOf('/') + 1)) && !bought.has(name))
      faults.in('estimate', 'buys', name).add('PART_NOT_PLANNED', `no work buys \`${name}\``, suggestFrom(name, bought));
  const seen = new Set<string>();
  stages?.groups.forEach((group, i) =>
    group.parts.forEach((id, j) => {
      const at = faults.in('stages', 'groups', i, 'parts', j);
      if (!ids.has(id)) at.add('PART_NOT_PLANNED', `\`${id}\` is no planned part of this build`, suggestFrom(id, ids));
      else if (seen.has(id)) at.add('PART_TWICE', `\`${id}\` is in another group already`, 'name each part once');
      seen.add(id);
    }),
  );
  stages?.groups.forEach(({ budget }, i) => {
    if (budget !== undefined && !estimate)
      faults
        .in('stages', 'groups', i, 'budget')
        .add('VALUE_NOT_TAKEN', 'there is nothing to hold a budget against', 'give the shop’s terms in `estimate`');
  });
  const count = stages?.groups.length ?? 0;
  if (stages?.order === 'best' && count > MOST_GROUPS_WEIGHED)
    faults
      .in('stages', 'groups')
      .add(
        'TOO_MANY',
        `${count} groups are too many to weigh every order of`,
        `give ${MOST_GROUPS_WEIGHED} at most, or \`order: as_given\``,
      );
}
