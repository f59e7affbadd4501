import { fileURLToPath } from 'node:url'
import tseslint from 'typescript-eslint'

// Types, unused names and the rest are the compiler's; here stand the few promises it cannot hold.
export default tseslint.config(
  { ignores: ['dist/**', 'node_modules/**', 'data/**'] },
  {
    files: ['**/*.ts'],
    extends: [tseslint.configs.base],
    languageOptions: {
      parserOptions: {
        tsconfigRootDir: fileURLToPath(new URL('..', import.meta.url)),
        project: ['./tsconfig.json', './shared/tsconfig.json', './views/client/tsconfig.json'],
      },
    },
    rules: {
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-misused-promises': 'error',
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
      '@typescript-eslint/no-unnecessary-condition': 'off',
      'no-console': 'error',
      eqeqeq: 'error',
      'prefer-const': 'error',
    },
  },
  {
    files: ['server/main.ts', 'server/admin/main.ts', 'tests/bench/**/*.ts', 'tests/load/*.ts'],
    rules: { 'no-console': 'off' },
  },
)
