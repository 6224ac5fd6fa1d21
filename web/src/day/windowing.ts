/** Which rows of a long table are in the document, and where the keys lead in it. */

/** Rows from `first` up to, and without, `end`. */
export interface Rows {
  first: number;
  end: number;
}

/** Rows that are seen, and a few beyond: scrolled on by less, nothing is to be drawn. */
const beyond = 8;

export function rowsInView(count: number, row_height: number, scrolled: number, height: number): Rows {
  // Where there are fewer rows than before, the browser will scroll back.
  const from = Math.min(scrolled, Math.max(0, count * row_height - height));
  const first = Math.floor(from / row_height) - beyond;
  const end = Math.ceil((from + height) / row_height) + beyond;
  return { first: Math.max(0, Math.min(first, count)), end: Math.max(0, Math.min(end, count)) };
}

/** How far to scroll so that a row is seen whole; as it is, where it is. */
export function scrolledTo(row: number, row_height: number, scrolled: number, height: number): number {
  const top = row * row_height;
  if (top < scrolled) return top;
  return Math.max(scrolled, top + row_height - height);
}

/** A cell of the grid; row -1 is the head. */
export interface Cell {
  row: number;
  column: number;
}

/** Where a key leads in a grid, as the ARIA Authoring Practices have it for a data grid; null: nowhere,
 *  the key is not for the grid. `page`: rows that are seen at once. */
export function led(key: string, control: boolean, at: Cell, size: Cell, page: number): Cell | null {
  const row = (to: number): Cell => ({ ...at, row: Math.max(size.row > 0 ? 0 : -1, Math.min(to, size.row - 1)) });
  const column = (to: number): Cell => ({ ...at, column: Math.max(0, Math.min(to, size.column - 1)) });
  switch (key) {
    case 'ArrowDown':
      return row(at.row + 1);
    case 'ArrowUp':
      return at.row <= 0 ? { ...at, row: -1 } : row(at.row - 1);
    case 'ArrowLeft':
      return column(at.column - 1);
    case 'ArrowRight':
      return column(at.column + 1);
    case 'PageDown':
      return row(at.row + page);
    case 'PageUp':
      return row(at.row - page);
    case 'Home':
      return control ? { ...row(0), column: 0 } : column(0);
    case 'End':
      return control ? { ...row(size.row - 1), column: size.column - 1 } : column(size.column - 1);
    default:
      return null;
  }
}
