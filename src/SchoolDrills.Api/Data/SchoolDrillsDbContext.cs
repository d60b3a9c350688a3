using Microsoft.EntityFrameworkCore;

namespace SchoolDrills.Api.Data;

internal sealed class SchoolDrillsDbContext(DbContextOptions<SchoolDrillsDbContext> options) : DbContext(options);
