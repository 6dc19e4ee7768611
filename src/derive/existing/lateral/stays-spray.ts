/** Heads that go on spraying on this valve: those of the lawn, and those marked to be kept. */
export function staysSpray(head: { readonly waters: string; readonly fate: string }): boolean {
  return head.waters === 'lawn' || head.fate === 'keep';
}
