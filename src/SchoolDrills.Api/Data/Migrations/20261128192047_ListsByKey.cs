using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <summary>
    /// Lists that grow for years are read along indexes: what is shown, and not what there is. And an attempt keeps the trace of the
    /// request that had it scored.
    /// </summary>
    public partial class ListsByKey : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            // Of an expression, which is not searched under row-level security; made again below, of a column.
            migrationBuilder.Sql("drop index ix_attempts_school_by_flight; drop index ix_attempts_student_by_flight");

            migrationBuilder.AddColumn<int>(
                name: "tallies_version",
                table: "schools",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<string>(
                name: "trace_parent",
                table: "attempts",
                type: "character varying(55)",
                maxLength: 55,
                nullable: true);

            migrationBuilder.AddColumn<DateTimeOffset>(
                name: "placed_at_utc",
                table: "attempts",
                type: "timestamp with time zone",
                nullable: false,
                computedColumnSql: "coalesce(flown_at_utc, uploaded_at_utc)",
                stored: true);

            migrationBuilder.CreateIndex(
                name: "ix_student_summaries_school_id",
                table: "student_summaries",
                column: "school_id");

            migrationBuilder.CreateIndex(
                name: "ix_student_summaries_waiting",
                table: "student_summaries",
                columns: new[] { "school_id", "waiting_since_utc" },
                filter: "to_grade > 0");

            migrationBuilder.CreateIndex(
                name: "ix_grades_instructor_id_saved_at_utc",
                table: "grades",
                columns: new[] { "instructor_id", "saved_at_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_grades_unsigned",
                table: "grades",
                column: "school_id",
                filter: "signed_at_utc is null");

            migrationBuilder.CreateIndex(
                name: "ix_audit_entries_school_id_action_id",
                table: "audit_entries",
                columns: new[] { "school_id", "action", "id" });

            migrationBuilder.CreateIndex(
                name: "ix_audit_entries_school_id_id",
                table: "audit_entries",
                columns: new[] { "school_id", "id" });

            migrationBuilder.CreateIndex(
                name: "ix_audit_entries_school_id_person_id_id",
                table: "audit_entries",
                columns: new[] { "school_id", "person_id", "id" });

            migrationBuilder.CreateIndex(
                name: "ix_audit_entries_school_id_subject_id_id",
                table: "audit_entries",
                columns: new[] { "school_id", "subject_id", "id" });

            migrationBuilder.CreateIndex(
                name: "ix_attempts_not_summarized",
                table: "attempts",
                column: "student_id",
                filter: "verdict is null or flown_at_utc is null");

            migrationBuilder.CreateIndex(
                name: "ix_attempts_school_by_flight",
                table: "attempts",
                columns: new[] { "school_id", "placed_at_utc", "id" },
                descending: new[] { false, true, true })
                .Annotation("Npgsql:IndexInclude", new[] { "student_id", "drill_version_id" });

            migrationBuilder.CreateIndex(
                name: "ix_attempts_student_by_flight",
                table: "attempts",
                columns: new[] { "student_id", "placed_at_utc", "id" },
                descending: new[] { false, true, true })
                .Annotation("Npgsql:IndexInclude", new[] { "school_id" });

            migrationBuilder.CreateIndex(
                name: "ix_assignments_by_due",
                table: "assignments",
                columns: new[] { "school_id", "due_on", "assigned_at_utc", "id" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "ix_student_summaries_school_id",
                table: "student_summaries");

            migrationBuilder.DropIndex(
                name: "ix_student_summaries_waiting",
                table: "student_summaries");

            migrationBuilder.DropIndex(
                name: "ix_grades_instructor_id_saved_at_utc",
                table: "grades");

            migrationBuilder.DropIndex(
                name: "ix_grades_unsigned",
                table: "grades");

            migrationBuilder.DropIndex(
                name: "ix_audit_entries_school_id_action_id",
                table: "audit_entries");

            migrationBuilder.DropIndex(
                name: "ix_audit_entries_school_id_id",
                table: "audit_entries");

            migrationBuilder.DropIndex(
                name: "ix_audit_entries_school_id_person_id_id",
                table: "audit_entries");

            migrationBuilder.DropIndex(
                name: "ix_audit_entries_school_id_subject_id_id",
                table: "audit_entries");

            migrationBuilder.DropIndex(
                name: "ix_attempts_not_summarized",
                table: "attempts");

            migrationBuilder.DropIndex(
                name: "ix_attempts_school_by_flight",
                table: "attempts");

            migrationBuilder.DropIndex(
                name: "ix_attempts_student_by_flight",
                table: "attempts");

            migrationBuilder.DropIndex(
                name: "ix_assignments_by_due",
                table: "assignments");

            migrationBuilder.DropColumn(
                name: "placed_at_utc",
                table: "attempts");

            migrationBuilder.DropColumn(
                name: "tallies_version",
                table: "schools");

            migrationBuilder.DropColumn(
                name: "trace_parent",
                table: "attempts");
        }
    }
}
