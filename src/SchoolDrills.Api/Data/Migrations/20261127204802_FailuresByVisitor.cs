using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class FailuresByVisitor : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropPrimaryKey(
                name: "pk_sign_in_failures",
                table: "sign_in_failures");

            migrationBuilder.AddColumn<string>(
                name: "visitor_hash",
                table: "sign_in_failures",
                type: "character varying(64)",
                maxLength: 64,
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddPrimaryKey(
                name: "pk_sign_in_failures",
                table: "sign_in_failures",
                columns: new[] { "address_hash", "visitor_hash" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropPrimaryKey(
                name: "pk_sign_in_failures",
                table: "sign_in_failures");

            migrationBuilder.DropColumn(
                name: "visitor_hash",
                table: "sign_in_failures");

            migrationBuilder.AddPrimaryKey(
                name: "pk_sign_in_failures",
                table: "sign_in_failures",
                column: "address_hash");
        }
    }
}
