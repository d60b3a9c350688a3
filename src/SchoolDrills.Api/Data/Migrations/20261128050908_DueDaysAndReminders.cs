using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class DueDaysAndReminders : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "digest_hour",
                table: "schools",
                type: "integer",
                nullable: false,
                defaultValue: 7);

            migrationBuilder.AddColumn<int>(
                name: "due_in_days",
                table: "schools",
                type: "integer",
                nullable: false,
                defaultValue: 7);

            migrationBuilder.AddColumn<int>(
                name: "soon_days",
                table: "schools",
                type: "integer",
                nullable: false,
                defaultValue: 2);

            migrationBuilder.CreateIndex(
                name: "ix_attempts_student_id_flown_at_utc",
                table: "attempts",
                columns: new[] { "student_id", "flown_at_utc" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "ix_attempts_student_id_flown_at_utc",
                table: "attempts");

            migrationBuilder.DropColumn(
                name: "digest_hour",
                table: "schools");

            migrationBuilder.DropColumn(
                name: "due_in_days",
                table: "schools");

            migrationBuilder.DropColumn(
                name: "soon_days",
                table: "schools");
        }
    }
}
