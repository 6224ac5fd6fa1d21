import { describe, expect, it } from 'vitest';
import { brokenLines, sheetAround } from '../../src/export/sheet';
import { fileName } from '../../src/export/save';

const colours = { ink: '#000', quiet: '#444', paper: '#fff' };
const size = { width: 600, height: 200, view_box: '0 0 600 200' };

describe('a sheet', () => {
  it('bears name, cautions and the mark of invented data', () => {
    const svg = sheetAround('<path d="M0 0H9"/>', size, {
      name: 'Force <1>',
      about: 'a run',
      cautions: ['Local rules come first.', 'Nobody goes on a roof.'],
      invented: 'Invented data.',
    }, colours);
    expect(svg).toContain('Force &lt;1&gt;');
    expect(svg).toContain('Local rules come first. Nobody goes on a roof.');
    expect(svg).toContain('Invented data.');
    expect(svg).toContain('<path d="M0 0H9"/>');
    expect(svg).toContain('Inter');
  });

  it('bears no mark where data are real', () => {
    const svg = sheetAround('', size, { name: 'n', about: '', cautions: ['c'], invented: null }, colours);
    expect(svg).not.toContain('nvented');
  });

  it('breaks long words of caution into lines and loses none', () => {
    const text = 'This result supports, and does not replace, the rules of the infrastructure manager.';
    const lines = brokenLines(text, 30);
    expect(lines.join(' ')).toBe(text);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(30);
  });
});

describe('the name of a file', () => {
  it('is made of plain letters', () => {
    expect(fileName('NV-100, Nordvale – Größe', 'svg')).toBe('nv-100-nordvale-große.svg'.replace('ß', '-'));
    expect(fileName('–', 'png')).toBe('drawing.png');
  });
});
