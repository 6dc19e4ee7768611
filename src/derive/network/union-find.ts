/** Numbers gathered into sets that only grow together; new numbers may be added at the end. */
export class UnionFind {
  private parent: Int32Array;
  private count: number;

  constructor(count: number) {
    this.parent = new Int32Array(count);
    this.count = count;
    for (let i = 0; i < count; i++) this.parent[i] = i;
  }

  get size(): number {
    return this.count;
  }

  /** Adds one number of its own and gives it. */
  add(): number {
    if (this.count === this.parent.length) {
      const wider = new Int32Array(2 * this.count + 64);
      wider.set(this.parent);
      this.parent = wider;
    }
    this.parent[this.count] = this.count;
    return this.count++;
  }

  /** The number that stands for the set of `i`. */
  root(i: number): number {
    const { parent } = this;
    let at = i;
    while (parent[at] !== at) {
      const up = parent[parent[at]!]!;
      parent[at] = up;
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
