import type { Limit, Rule } from './check.ts';
import { FURTHER_RULES } from './further.ts';
import { RULES_1_20 } from './rules-1-20.ts';
import { RULES_21_40 } from './rules-21-40.ts';

/** All rules in the order in which their findings are shown: the forty by their numbers, then what is beyond them. */
export const RULES: readonly Rule[] = [...RULES_1_20, ...RULES_21_40, ...FURTHER_RULES];

/** The rule that gives notices of a name, for its number, its limits and its title. */
export function ruleOf(says: string): Rule | undefined {
  return RULES.find((rule) => rule.says.includes(says));
}

/** All limits that a plan may change. */
export const LIMITS: readonly Limit[] = RULES.flatMap(({ limits }) => limits);
