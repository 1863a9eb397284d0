import matplotlib
import pytest

matplotlib.use("Agg")


@pytest.fixture(autouse=True)
def _close_figures():
    yield
    import matplotlib.pyplot as plt

    plt.close("all")


@pytest.fixture
def ax():
    import matplotlib.pyplot as plt

    return plt.subplots(layout="constrained")[1]
