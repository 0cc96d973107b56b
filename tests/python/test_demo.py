"""The Python half of the demo gives the answer that the Rust half proves."""

import runpy


def test_the_demo_runs(project, capsys):
    names = runpy.run_path(str(project / "tests" / "examples" / "demo.py"))
    assert names["answer"].verify()
    assert "sci-powder" in capsys.readouterr().out
