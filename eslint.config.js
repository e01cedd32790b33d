import tseslint from 'typescript-eslint';

export default tseslint.config(
  { ignores: ['dist/', 'out/', 'node_modules/', 'coverage/'] },
  ...tseslint.configs.recommended,
  {
    files: ['src/**/*.ts', 'tests/**/*.ts'],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      // noUncheckedIndexedAccess makes `!` the honest way to say "the loop bound proves it".
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-misused-promises': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      eqeqeq: 'error',
    },
  },
  {
    // Functions that were longer than this before are counted in eslint-suppressions.json. After one of them is fixed:
    // npx eslint --prune-suppressions FILE.
    files: ['src/**/*.ts'],
    rules: {
      'max-params': ['error', 4],
      complexity: ['error', 20],
      'no-duplicate-imports': 'error',
      // Engines round other powers differently, so they would give other bytes: see src/base/statistics/power.ts.
      'no-restricted-syntax': [
        'error',
        {
          selector:
            "BinaryExpression[operator='**']:not([left.value=2], [right.value=2]), MemberExpression[object.name='Math'][property.name='pow']",
          message:
            'Take cube, tenTo or powerOf of src/base/statistics/power.ts: `**` has other last bits in other engines.',
        },
      ],
    },
  },
);
