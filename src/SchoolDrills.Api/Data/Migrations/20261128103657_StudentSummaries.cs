using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class StudentSummaries : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "ix_grades_instructor_id_signed_at_utc",
                table: "grades");

            migrationBuilder.AddColumn<int>(
                name: "students",
                table: "day_tallies",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.CreateTable(
                name: "student_summaries",
                columns: table => new
                {
                    student_id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    attempts = table.Column<int>(type: "integer", nullable: false),
                    last_flown_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    to_grade = table.Column<int>(type: "integer", nullable: false),
                    waiting_since_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    state = table.Column<Guid>(type: "uuid", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_student_summaries", x => x.student_id);
                });

            migrationBuilder.CreateIndex(
                name: "ix_score_reports_id",
                table: "score_reports",
                column: "id")
                .Annotation("Npgsql:IndexInclude", new[] { "school_id", "attempt_id", "verdict" });

            migrationBuilder.CreateIndex(
                name: "ix_grades_instructor_id_signed_at_utc",
                table: "grades",
                columns: new[] { "instructor_id", "signed_at_utc" })
                .Annotation("Npgsql:IndexInclude", new[] { "school_id", "attempt_id", "number", "overall", "report_id" });

            migrationBuilder.CreateIndex(
                name: "ix_attempts_school_id_scored_with",
                table: "attempts",
                columns: new[] { "school_id", "scored_with" });

            migrationBuilder.CreateIndex(
                name: "ix_attempts_to_grade",
                table: "attempts",
                columns: new[] { "student_id", "uploaded_at_utc" },
                filter: "verdict is not null and graded_at_utc is null");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "student_summaries");

            migrationBuilder.DropIndex(
                name: "ix_score_reports_id",
                table: "score_reports");

            migrationBuilder.DropIndex(
                name: "ix_grades_instructor_id_signed_at_utc",
                table: "grades");

            migrationBuilder.DropIndex(
                name: "ix_attempts_school_id_scored_with",
                table: "attempts");

            migrationBuilder.DropIndex(
                name: "ix_attempts_to_grade",
                table: "attempts");

            migrationBuilder.DropColumn(
                name: "students",
                table: "day_tallies");

            migrationBuilder.CreateIndex(
                name: "ix_grades_instructor_id_signed_at_utc",
                table: "grades",
                columns: new[] { "instructor_id", "signed_at_utc" });
        }
    }
}
