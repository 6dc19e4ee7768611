/** Numbers gathered into sets that only grow together; new numbers may be added at the end. */
export class UnionFind {
  private readonly parent: number[] = [];

  constructor(count: number) {
    for (let i = 0; i < count; i++) this.parent.push(i);
  }

  get size(): number {
    return this.parent.length;
  }

  /** Adds one number of its own and gives it. */
  add(): number {
    this.parent.push(this.parent.length);
    return this.parent.length - 1;
  }

  /** The number that stands for the set of `i`. */
  root(i: number): number {
    let at = i;
    while (this.parent[at] !== at) {
      const up = this.parent[this.parent[at]!]!;
      this.parent[at] = up;
      at = up;
    }
    return at;
  }

  join(a: number, b: number): void {
    const rootA = this.root(a);
    const rootB = this.root(b);
    if (rootA < rootB) this.parent[rootB] = rootA;
    else if (rootB < rootA) this.parent[rootA] = rootB;
  }
}
