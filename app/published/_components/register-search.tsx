import Link from 'next/link';
import styles from './published.module.css';

/** Search in the register: in what debriefs are called, in their text, by the start of a hash. */
export function RegisterSearch({ query }: Readonly<{ query: string }>) {
  return (
    <search>
      <form action="/published" className={`${styles.search} no-print`}>
        <label className="visually-hidden" htmlFor="register-search">
          Words in a debrief, its title, its number or its SHA-256
        </label>
        <input
          id="register-search"
          type="search"
          name="q"
          defaultValue={query}
          maxLength={200}
          placeholder="Words, number, person or SHA-256"
        />
        <button type="submit" className="button">
          Search
        </button>
        {query !== '' && <Link href="/published">Show all</Link>}
      </form>
    </search>
  );
}
