using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class AircraftAndStages : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "stages",
                table: "schools",
                type: "jsonb",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "aircraft",
                table: "attempts",
                type: "character varying(100)",
                maxLength: 100,
                nullable: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "stages",
                table: "schools");

            migrationBuilder.DropColumn(
                name: "aircraft",
                table: "attempts");
        }
    }
}
