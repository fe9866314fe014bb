/** Lint rules. The import boundaries keep the house in order: entry → pane → workbook → audit → functions → maths. */
import tseslint from 'typescript-eslint';

/** What each layer may import of the others. */
const MAY_IMPORT = {
  maths: [],
  functions: ['maths'],
  working: ['functions', 'maths'],
  audit: ['functions', 'maths'],
  workbook: ['audit', 'working', 'functions', 'maths'],
  pane: ['workbook', 'audit', 'working', 'functions', 'maths'],
  entry: ['pane', 'workbook', 'audit', 'working', 'functions', 'maths'],
  host: ['audit', 'working', 'functions', 'maths'],
  tools: ['host', 'pane', 'workbook', 'audit', 'working', 'functions', 'maths'],
};

/** The language of formulas and the content of workbooks, which know nothing of the host's engine and files. */
const LANGUAGE = 'host/(?:formulas/|book/(?:addresses|cells|content|extent)$)';

/** Layers that run in the add-in: no file system, no console. */
const SHIPPED = ['maths', 'functions', 'working', 'audit', 'workbook', 'pane', 'entry'];

function boundary([layer, allowed]) {
  const barred = Object.keys(MAY_IMPORT).filter((other) => other !== layer && !allowed.includes(other));
  const patterns = [
    {
      regex: `^(\\.\\./)+${layer === 'audit' ? `(?!${LANGUAGE})` : ''}(${barred.join('|')})(/|$)`,
      message: `src/${layer} may import ${allowed.join(', ') || 'nothing of ours'} only.`,
    },
    ...(SHIPPED.includes(layer)
      ? [{regex: '^node:', message: 'This runs in the add-in, where there is no Node.js.'}]
      : []),
  ];
  return {files: [`src/${layer}/**`], rules: {'no-restricted-imports': ['error', {patterns}]}};
}

export default tseslint.config(
  {ignores: ['dist/', 'out/', 'node_modules/', 'tests/files/']},
  tseslint.configs.recommended,
  ...Object.entries(MAY_IMPORT).map(boundary),
  {
    rules: {
      '@typescript-eslint/no-unused-vars': [
        'error',
        {argsIgnorePattern: '^_', varsIgnorePattern: '^_', destructuredArrayIgnorePattern: '^_'},
      ],
      '@typescript-eslint/no-non-null-assertion': 'off',
      eqeqeq: 'error',
      'prefer-const': ['error', {destructuring: 'all'}],
    },
  },
  {
    files: SHIPPED.map((layer) => `src/${layer}/**`),
    rules: {'no-console': 'error', 'no-eval': 'error', 'no-new-func': 'error'},
  },
);
