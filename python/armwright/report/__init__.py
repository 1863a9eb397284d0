"""Reports: results as tables, files and words for people."""

from armwright.report.cautions import caution_line, cautions
from armwright.report.folder import write_result
from armwright.report.gather import document, question_keys
from armwright.report.glb import cell_to_glb
from armwright.report.outline_dxf import outlines_to_dxf
from armwright.report.part_page import part_page
from armwright.report.plan_dxf import plan_to_dxf
from armwright.report.report_files import write_report
from armwright.report.result_files import to_csv, to_xlsx
from armwright.report.result_tables import tables_of
from armwright.report.setpoint_files import setpoints_table, setpoints_to_csv, setpoints_to_parquet
from armwright.report.tables import targets_table
from armwright.report.volume_glb import volume_to_glb

__all__ = [
    "caution_line", "cautions", "cell_to_glb", "document", "outlines_to_dxf", "part_page", "plan_to_dxf",
    "question_keys", "setpoints_table", "setpoints_to_csv", "setpoints_to_parquet", "tables_of", "targets_table",
    "to_csv", "to_xlsx", "volume_to_glb", "write_report", "write_result",
]  # fmt: skip
