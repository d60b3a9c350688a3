using System.Text;
using SchoolDrills.Contracts;
using SchoolDrills.Web.People;

namespace SchoolDrills.Web.Tests.People;

/// <summary>Lists of people as schools keep them: out of sheets, mail programs and letters.</summary>
public class PeopleTextTests
{
    public static TheoryData<string, string> Lists =>
        new()
        {
            { "commas", "Rewi Marsh,rewi@a.example,student\nIlse Farrow,ilse@a.example,instructor" },
            { "semicolons", "Rewi Marsh;rewi@a.example;student\r\nIlse Farrow;ilse@a.example;instructor\r\n" },
            { "tabs, as out of a sheet", "Rewi Marsh\trewi@a.example\tstudent\rIlse Farrow\tilse@a.example\tinstructor" },
            { "a line of titles", "Name,Email,Role\nRewi Marsh,rewi@a.example,student\nIlse Farrow,ilse@a.example,instructor" },
            {
                "titles in another order",
                "Role;E-mail address;Full name\nstudent;rewi@a.example;Rewi Marsh\nInstructor;ilse@a.example;Ilse Farrow"
            },
            {
                "family name first",
                "Last name,First name,Email,Role\nMarsh,Rewi,rewi@a.example,Student\nFarrow,Ilse,ilse@a.example,Instructor"
            },
            {
                "more columns than are needed",
                "Id,Name,Phone,Email,Role\n1,Rewi Marsh,555 1,rewi@a.example,student\n2,Ilse Farrow,555 2,ilse@a.example,instructor"
            },
            {
                "a byte order mark and blank lines",
                "\uFEFFRewi Marsh,rewi@a.example,student\n\n  \nIlse Farrow,ilse@a.example,instructor\n\n"
            },
            { "quotes", "\"Rewi Marsh\",\"rewi@a.example\",\"student\"\n\"Ilse Farrow\",\"ilse@a.example\",\"instructor\"" },
            { "mail, one on a line", "Rewi Marsh <rewi@a.example>\n\"Ilse Farrow\" <ilse@a.example>, instructor" },
            { "mail and rows mixed", "Rewi Marsh <rewi@a.example>\nIlse Farrow, ilse@a.example, instructor" },
            { "nothing but spaces between", "Rewi Marsh rewi@a.example\nIlse Farrow ilse@a.example instructor" },
            { "the address first", "rewi@a.example, Rewi Marsh, student\nilse@a.example, Ilse Farrow, instructor" },
            { "hard spaces and mailto", "Rewi\u00A0Marsh, mailto:rewi@a.example\nIlse  Farrow, <ilse@a.example>, Instructors" },
            { "roles in capitals", "Rewi Marsh,rewi@a.example,STUDENT\nIlse Farrow,ilse@a.example,Flight instructor" },
        };

    [Theory]
    [MemberData(nameof(Lists))]
    public void The_same_two_people_are_read_from_every_way_of_writing_them(string way, string list)
    {
        var people = PeopleText.Read(list, Roles.Student);
        Assert.True(people.Count == 2, $"{way}: {people.Count} people");
        Assert.Equal(("Rewi Marsh", "rewi@a.example", "student"), (people[0].Name, people[0].Email, people[0].Role));
        Assert.Equal(("Ilse Farrow", "ilse@a.example", "instructor"), (people[1].Name, people[1].Email, people[1].Role));
    }

    [Fact]
    public void Several_addresses_on_one_line_are_several_people()
    {
        var people = PeopleText.Read("\"Marsh, Rewi\" <rewi@a.example>, Ilse Farrow <ilse@a.example>; <third@a.example>", Roles.Instructor);
        Assert.Equal(["Marsh, Rewi", "Ilse Farrow", ""], people.Select(p => p.Name));
        Assert.Equal(["rewi@a.example", "ilse@a.example", "third@a.example"], people.Select(p => p.Email));
        Assert.All(people, p => Assert.Equal(Roles.Instructor, p.Role));
    }

    [Theory]
    [InlineData("A,a@a.example,student/instructor", "student, instructor")]
    [InlineData("A;a@a.example;student, instructor", "student, instructor")]
    [InlineData("A,a@a.example,instructor and chief", "instructor, chief")]
    [InlineData("A,a@a.example,student,instructor", "student, instructor")]
    [InlineData("A,a@a.example,Chief instructor", "chief")]
    [InlineData("A,a@a.example,admiral", "admiral")]
    [InlineData("A,a@a.example,", "student")]
    public void Roles_are_read_and_what_is_none_stays_as_written(string line, string role) =>
        Assert.Equal(role, Assert.Single(PeopleText.Read(line, Roles.Student)).Role);

    [Fact]
    public void A_comma_in_a_quoted_name_and_a_quotation_mark_that_nothing_closes_lose_nobody()
    {
        Assert.Equal("Marsh, Rewi", Assert.Single(PeopleText.Read("\"Marsh, Rewi\",rewi@a.example,student", Roles.Student)).Name);
        var people = PeopleText.Read("Rewi \"Bear Marsh,rewi@a.example,student\nIlse,ilse@a.example,student", Roles.Student);
        Assert.Equal(["rewi@a.example", "ilse@a.example"], people.Select(p => p.Email));
    }

    [Fact]
    public void A_row_without_an_address_stays_with_what_it_has_for_a_person_to_correct()
    {
        var people = PeopleText.Read("Rewi Marsh,rewi at a.example,student\nonly a name", Roles.Student);
        Assert.Equal(
            [("Rewi Marsh", "rewi at a.example", "student"), ("only a name", "", "student")],
            people.Select(p => (p.Name, p.Email, p.Role))
        );
    }

    [Theory]
    [InlineData("")]
    [InlineData(" \n\t\n ,, \n")]
    [InlineData("Name,Email,Role")]
    public void A_list_of_nobody_is_empty(string list) => Assert.Empty(PeopleText.Read(list, Roles.Student));

    [Fact]
    public void Whatever_is_pasted_is_read_without_an_exception_and_comes_back_from_the_usual_form()
    {
        const string Alphabet = "ab @,;\t\"<>\n.é\u00A0\uFEFF'/-0";
        var random = new Random(7);
        for (var i = 0; i < 3000; i++)
        {
            var text = string.Concat(Enumerable.Range(0, random.Next(80)).Select(_ => Alphabet[random.Next(Alphabet.Length)]));
            var people = PeopleText.Read(text, Roles.Student);
            Assert.All(people, p => Assert.False(p.Name.Contains('\n') || p.Email.Contains('\n')));
        }

        for (var i = 0; i < 300; i++)
        {
            var names = Enumerable.Range(0, 1 + random.Next(40)).Select(n => $"Pilot {(char)('A' + random.Next(26))}, the {n}th").ToList();
            var list = string.Join("\r\n", names.Select((n, k) => $"\"{n}\";p{k}@a.example;instructor"));
            Assert.Equal(names, PeopleText.Read(list, Roles.Student).Select(p => p.Name));
        }
    }

    [Fact]
    public void Files_are_decoded_by_their_mark_or_as_what_a_spreadsheet_writes()
    {
        const string Text = "Zoë,zoe@a.example";
        Assert.Equal(Text, PeopleText.Decode(Encoding.UTF8.GetBytes(Text)));
        Assert.Equal(Text, PeopleText.Decode([.. Encoding.UTF8.Preamble, .. Encoding.UTF8.GetBytes(Text)]));
        Assert.Equal(Text, PeopleText.Decode([.. Encoding.Unicode.Preamble, .. Encoding.Unicode.GetBytes(Text)]));
        Assert.Equal(Text, PeopleText.Decode(Encoding.Latin1.GetBytes(Text)));
    }

    [Fact]
    public void Each_row_says_in_a_sentence_what_is_wrong_with_it()
    {
        var people = PeopleText
            .Read(
                "Ann,ann@a.example\nAnn again,ANN@a.example\nBen,ben at a.example\nCy,cy@a.example,admiral\n"
                    + ",di@a.example\nMember,member@a.example",
                Roles.Student
            )
            .Select(p => p.Person)
            .ToList();
        var problems = InvitationList.ProblemsOf(people, new HashSet<string> { EmailAddress.Normalize("member@a.example") });
        Assert.DoesNotContain(0, problems.Keys);
        Assert.Equal("This address is in row 1 already.", problems[1]);
        Assert.Equal("“ben at a.example” is not an email address.", problems[2]);
        Assert.StartsWith("“admiral” is not a role", problems[3], StringComparison.Ordinal);
        Assert.Equal("The name is missing.", problems[4]);
        Assert.StartsWith("member@a.example has an account", problems[5], StringComparison.Ordinal);
    }

    [Fact]
    public void Rows_beyond_five_hundred_wait_for_the_next_list()
    {
        var list = string.Join('\n', Enumerable.Range(0, 502).Select(i => $"P {i},p{i}@a.example"));
        var problems = InvitationList.ProblemsOf([.. PeopleText.Read(list, Roles.Student).Select(p => p.Person)], new HashSet<string>());
        Assert.Equal([500, 501], problems.Keys.Order());
    }

    [Fact]
    public void A_name_in_the_file_of_links_is_no_formula() =>
        Assert.Contains(
            "\"'=1+1 \"\"x\"\"\",\"a@a.example\",\"http://s/1\"",
            PeopleText.Csv([("=1+1 \"x\"", "a@a.example", "http://s/1")]),
            StringComparison.Ordinal
        );
}
