/** Smallest first; of equal keys the smaller square, so that the answer never depends on the order of insertion. */
export class Heap {
  private cells = new Int32Array(1024);
  private keys = new Float64Array(1024);
  private count = 0;

  /** The smallest key; Infinity where there is none. */
  get least(): number {
    return this.count > 0 ? this.keys[0]! : Infinity;
  }

  push(cell: number, key: number): void {
    if (this.count === this.cells.length) this.widen();
    const { cells, keys } = this;
    let i = this.count++;
    while (i > 0) {
      const up = (i - 1) >> 1;
      if (!isBefore(key, cell, keys[up]!, cells[up]!)) break;
      keys[i] = keys[up]!;
      cells[i] = cells[up]!;
      i = up;
    }
    keys[i] = key;
    cells[i] = cell;
  }

  /** Takes the cell with the smallest key; there must be one. */
  pop(): number {
    const { cells, keys } = this;
    const top = cells[0]!;
    const last = --this.count;
    const key = keys[last]!;
    const cell = cells[last]!;
    let i = 0;
    for (;;) {
      let child = 2 * i + 1;
      if (child >= last) break;
      const right = child + 1;
      if (right < last && isBefore(keys[right]!, cells[right]!, keys[child]!, cells[child]!)) child = right;
      if (!isBefore(keys[child]!, cells[child]!, key, cell)) break;
      keys[i] = keys[child]!;
      cells[i] = cells[child]!;
      i = child;
    }
    keys[i] = key;
    cells[i] = cell;
    return top;
  }

  private widen(): void {
    const [cells, keys] = [new Int32Array(2 * this.count), new Float64Array(2 * this.count)];
    cells.set(this.cells);
    keys.set(this.keys);
    [this.cells, this.keys] = [cells, keys];
  }
}

function isBefore(key: number, cell: number, otherKey: number, otherCell: number): boolean {
  return key < otherKey || (key === otherKey && cell < otherCell);
}
