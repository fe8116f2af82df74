import styles from './loading.module.css';

export default function Loading() {
  return (
    <div className="page">
      <p className={styles.loading} role="status">
        Reading the session…
      </p>
    </div>
  );
}
