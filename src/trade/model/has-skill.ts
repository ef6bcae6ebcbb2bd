import type { Skill, Technician } from './people.ts';

/** Whether a person has a skill at a level at least; no skill is asked of anybody where it is null. */
export function hasSkill({ skills }: Technician, skill: Skill | null, level: number): boolean {
  if (skill === null) return true;
  for (const known of skills) if (known.skill === skill && known.level >= level) return true;
  return false;
}
