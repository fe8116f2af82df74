import { HomeHeader } from '../_components/shell/home-header';

/** While the register is being read. */
export default function PlansLoading() {
  return (
    <>
      <HomeHeader />
      <main className="page" id="main" tabIndex={-1}>
        <p className="soft" role="status">
          Reading the register.
        </p>
      </main>
    </>
  );
}
