/**
 * Powers whose last bit is the same in every engine. The engines of Node 20 and Node 24 round `x ** 3` and `10 ** n`
 * differently (measured: 3 ** -6, 10 ** -5), so the code has `**` only for squares and for powers of two.
 */

/** x³ as two products. */
export const cube = (x: number): number => x * x * x;

/** 10ⁿ for a whole number n: the double nearest to it. */
export const tenTo = (n: number): number => Number(`1e${n}`);

/** x to the power of a real exponent, x > 0: exp and log are the same in the engines that are supported. */
export const powerOf = (x: number, exponent: number): number => Math.exp(exponent * Math.log(x));
