namespace SchoolDrills.Api.Data;

/// <summary>Something of one student's, which not everybody at the school may see.</summary>
internal interface IStudentWork
{
    Guid StudentId { get; }
}
