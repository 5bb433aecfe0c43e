import js from '@eslint/js'
import svelte from 'eslint-plugin-svelte'
import globals from 'globals'
import ts from 'typescript-eslint'

export default ts.config(
  { ignores: ['node_modules/', 'src/wire.d.ts'] },
  js.configs.recommended,
  ...ts.configs.strict,
  ...svelte.configs.recommended,
  {
    languageOptions: { globals: { ...globals.browser } },
    rules: {
      'max-lines': ['error', { max: 300, skipBlankLines: true, skipComments: true }],
      'max-params': ['error', 5],
      'no-console': 'error',
      eqeqeq: 'error',
      // Names and titles are text everywhere: no markup from a string, ever.
      'no-restricted-properties': [
        'error',
        { property: 'innerHTML' },
        { property: 'outerHTML' },
        { property: 'insertAdjacentHTML' },
      ],
      'svelte/no-at-html-tags': 'error',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
    },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser, extraFileExtensions: ['.svelte'] } },
  },
  {
    // A component with its looks; more means that it is two.
    files: ['**/*.svelte'],
    rules: { 'max-lines': ['error', { max: 120, skipBlankLines: true, skipComments: true }] },
  },
  {
    files: ['src/**/*.svelte'],
    rules: { 'no-restricted-globals': ['error', 'fetch', 'WebSocket', 'localStorage', 'sessionStorage'] },
  },
)
