/** Small bugs put into a source file, one at a time, by its syntax tree: what a slip of the hand would write. */
import ts from 'typescript';

export interface Mutant {
  /** Relative to the project. */
  readonly file: string;
  /** From 1. */
  readonly line: number;
  readonly was: string;
  readonly is: string;
  /** The whole file with the bug. */
  readonly text: string;
}

const OTHER: Partial<Record<ts.SyntaxKind, string>> = {
  [ts.SyntaxKind.PlusToken]: '-',
  [ts.SyntaxKind.MinusToken]: '+',
  [ts.SyntaxKind.AsteriskToken]: '/',
  [ts.SyntaxKind.SlashToken]: '*',
  [ts.SyntaxKind.LessThanToken]: '<=',
  [ts.SyntaxKind.LessThanEqualsToken]: '<',
  [ts.SyntaxKind.GreaterThanToken]: '>=',
  [ts.SyntaxKind.GreaterThanEqualsToken]: '>',
  [ts.SyntaxKind.EqualsEqualsEqualsToken]: '!==',
  [ts.SyntaxKind.ExclamationEqualsEqualsToken]: '===',
  [ts.SyntaxKind.AmpersandAmpersandToken]: '||',
  [ts.SyntaxKind.BarBarToken]: '&&',
};

/** Methods of Math that are taken for each other. */
const MATH: Readonly<Record<string, string>> = {
  max: 'min',
  min: 'max',
  floor: 'ceil',
  ceil: 'floor',
  sqrt: 'abs',
  hypot: 'max',
  abs: 'sign',
};

/** Every bug that can be put into a file. */
export function mutantsOf(file: string, source: string): Mutant[] {
  const tree = ts.createSourceFile(file, source, ts.ScriptTarget.Latest, true);
  const found: Mutant[] = [];
  const put = (node: ts.Node, is: string) => {
    const [from, to] = [node.getStart(tree), node.getEnd()];
    found.push({
      file,
      line: tree.getLineAndCharacterOfPosition(from).line + 1,
      was: node.getText(tree),
      is,
      text: source.slice(0, from) + is + source.slice(to),
    });
  };
  const walk = (node: ts.Node): void => {
    // Types and imports do nothing at run time.
    if (ts.isTypeNode(node) || ts.isImportDeclaration(node) || ts.isInterfaceDeclaration(node)) return;
    if (ts.isBinaryExpression(node)) {
      const other = OTHER[node.operatorToken.kind];
      // The sum of texts is no sum.
      if (other !== undefined && !/['"`]/.test(node.getText(tree))) put(node.operatorToken, other);
    } else if (ts.isNumericLiteral(node)) {
      const value = Number(node.text);
      // An index of a tuple or the base of a parse is seen at once; constants are what slips.
      if (!ts.isElementAccessExpression(node.parent))
        put(
          node,
          String(value === 0 ? 1 : value === 1 ? 2 : Number.isInteger(value) ? value + 1 : value * 1.5),
        );
    } else if (
      ts.isPrefixUnaryExpression(node) &&
      (node.operator === ts.SyntaxKind.MinusToken || node.operator === ts.SyntaxKind.ExclamationToken)
    )
      put(node, ` ${node.operand.getText(tree)}`);
    else if (
      ts.isPropertyAccessExpression(node) &&
      node.expression.getText(tree) === 'Math' &&
      MATH[node.name.text] !== undefined &&
      ts.isCallExpression(node.parent)
    )
      put(node.name, MATH[node.name.text]!);
    ts.forEachChild(node, walk);
  };
  walk(tree);
  return found;
}
