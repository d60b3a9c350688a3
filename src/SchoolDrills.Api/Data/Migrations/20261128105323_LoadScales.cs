using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class LoadScales : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "bedford",
                table: "self_assessments",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "task_load",
                table: "self_assessments",
                type: "jsonb",
                nullable: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "bedford",
                table: "self_assessments");

            migrationBuilder.DropColumn(
                name: "task_load",
                table: "self_assessments");
        }
    }
}
