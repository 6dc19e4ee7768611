/**
 * Numbers with keys, the smallest key first; of equal keys the smaller number, so that the answer never depends on the
 * order of insertion.
 */
export class Heap {
  private numbers = new Int32Array(1024);
  private keys = new Float64Array(1024);
  private count = 0;

  /** The smallest key; Infinity where there is none. */
  get least(): number {
    return this.count > 0 ? this.keys[0]! : Infinity;
  }

  push(number: number, key: number): void {
    if (this.count === this.numbers.length) this.widen();
    const { numbers, keys } = this;
    let i = this.count++;
    while (i > 0) {
      const up = (i - 1) >> 1;
      if (!isBefore(key, number, keys[up]!, numbers[up]!)) break;
      keys[i] = keys[up]!;
      numbers[i] = numbers[up]!;
      i = up;
    }
    keys[i] = key;
    numbers[i] = number;
  }

  /** Takes the number with the smallest key; there must be one. */
  pop(): number {
    const { numbers, keys } = this;
    const top = numbers[0]!;
    const last = --this.count;
    const key = keys[last]!;
    const number = numbers[last]!;
    let i = 0;
    for (;;) {
      let child = 2 * i + 1;
      if (child >= last) break;
      const right = child + 1;
      if (right < last && isBefore(keys[right]!, numbers[right]!, keys[child]!, numbers[child]!))
        child = right;
      if (!isBefore(keys[child]!, numbers[child]!, key, number)) break;
      keys[i] = keys[child]!;
      numbers[i] = numbers[child]!;
      i = child;
    }
    keys[i] = key;
    numbers[i] = number;
    return top;
  }

  private widen(): void {
    const [numbers, keys] = [new Int32Array(2 * this.count), new Float64Array(2 * this.count)];
    numbers.set(this.numbers);
    keys.set(this.keys);
    [this.numbers, this.keys] = [numbers, keys];
  }
}

function isBefore(key: number, number: number, otherKey: number, otherNumber: number): boolean {
  return key < otherKey || (key === otherKey && number < otherNumber);
}
