using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class StudentNotes : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "ix_sessions_person_id",
                table: "sessions");

            migrationBuilder.CreateTable(
                name: "student_notes",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    student_id = table.Column<Guid>(type: "uuid", nullable: false),
                    written_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    written_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    changed_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    text = table.Column<string>(type: "character varying(4000)", maxLength: 4000, nullable: false),
                    revision = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_student_notes", x => x.id);
                    table.ForeignKey(
                        name: "fk_student_notes_people_student_id",
                        column: x => x.student_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_student_notes_people_written_by_id",
                        column: x => x.written_by_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_sessions_person_id_started_at_utc",
                table: "sessions",
                columns: new[] { "person_id", "started_at_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_student_notes_student_id_written_at_utc",
                table: "student_notes",
                columns: new[] { "student_id", "written_at_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_student_notes_written_by_id",
                table: "student_notes",
                column: "written_by_id");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "student_notes");

            migrationBuilder.DropIndex(
                name: "ix_sessions_person_id_started_at_utc",
                table: "sessions");

            migrationBuilder.CreateIndex(
                name: "ix_sessions_person_id",
                table: "sessions",
                column: "person_id");
        }
    }
}
