using System.Text;
using System.Text.RegularExpressions;
using nietras.SeparatedValues;

namespace SchoolDrills.Web.People;

/// <summary>Reads a pasted list or a file of people, however it is written. What it cannot tell is left to be corrected by hand.</summary>
public static partial class PeopleText
{
    /// <summary>A list for a school, not a database: what is longer was not meant for here.</summary>
    public const int MostCharacters = 500_000;

    private static readonly char[] Separators = ['\t', ';', ','];

    /// <summary>The people of a list, in its order.</summary>
    /// <param name="usualRole">Of whoever has none written beside them.</param>
    public static IReadOnlyList<PersonDraft> Read(string text, string usualRole)
    {
        var clean = Clean(text);
        var lines = clean.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        var people = lines.Any(l => Angled().IsMatch(l))
            ? lines.SelectMany(l => Angled().IsMatch(l) ? FromMail(l) : Rows(l).Select(FromCells))
            : FromTable(Rows(clean));
        return
        [
            .. people
                .Where(p => p.Name.Length + p.Email.Length > 0)
                .Select(p => new PersonDraft
                {
                    Name = p.Name,
                    Email = p.Email,
                    Role = p.Role.Length > 0 ? PersonDraft.RoleOf(p.Role) : usualRole,
                }),
        ];
    }

    /// <summary>The text of a file: UTF-8 or UTF-16 by its mark, else UTF-8, else the old Latin of spreadsheets.</summary>
    public static string Decode(byte[] file)
    {
        try
        {
            using var reader = new StreamReader(
                new MemoryStream(file),
                new UTF8Encoding(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true)
            );
            return reader.ReadToEnd();
        }
        catch (DecoderFallbackException)
        {
            return Encoding.Latin1.GetString(file);
        }
    }

    /// <summary>Names, addresses and links as a file for a spreadsheet, which must not take a name for a formula.</summary>
    public static string Csv(IEnumerable<(string Name, string Email, string Link)> rows)
    {
        static string Cell(string text)
        {
            var safe = text.TrimStart() is ['=' or '+' or '-' or '@' or '＝' or '＋' or '－' or '＠', ..] ? "'" + text : text;
            return $"\"{safe.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
        }

        return "\uFEFFname,email,link\r\n" + string.Concat(rows.Select(r => $"{Cell(r.Name)},{Cell(r.Email)},{Cell(r.Link)}\r\n"));
    }

    private static string Clean(string text)
    {
        var clean = new StringBuilder(text.Length);
        foreach (var c in text.ReplaceLineEndings("\n"))
        {
            if (c is '\u00A0' or '\u202F')
                clean.Append(' ');
            else if (c is '\n' or '\t' || !char.IsControl(c) && c is not ('\uFEFF' or '\u200B' or '\u200E' or '\u200F'))
                clean.Append(c);
        }

        return clean.ToString();
    }

    /// <summary>Addresses as a mail program writes them: <c>Name &lt;a@b.example&gt;</c>, one on a line or several.</summary>
    private static IEnumerable<Found> FromMail(string line)
    {
        var found = Angled().Matches(line);
        var from = 0;
        foreach (Match one in found)
        {
            var name = line[from..one.Index];
            from = one.Index + one.Length;
            var role = found.Count == 1 ? line[from..].Trim(' ', '\t', ',', ';') : "";
            yield return new Found(Unquoted(name), Address(one.Groups[1].Value), role);
        }
    }

    private static IEnumerable<Found> FromTable(List<string[]> rows)
    {
        if (rows.Count == 0 || Columns(rows[0]) is not { } columns)
            return rows.Select(FromCells);
        return rows.Skip(1).Select(r => new Found(Joined(r, columns.Names), Address(Joined(r, columns.Email)), Joined(r, columns.Role)));
    }

    /// <summary>Without a header each row tells by itself: what has an @ is the address, what names roles is the role.</summary>
    private static Found FromCells(string[] cells)
    {
        if (cells.Length == 1)
            return FromWords(cells[0]);
        var at = Array.FindIndex(cells, c => c.Contains('@'));
        if (at < 0)
            return new Found(cells[0], cells[1], string.Join(' ', cells.Skip(2)).Trim());
        var isRole = cells.Select(PersonDraft.IsRole).ToArray();
        int[] before = [.. Enumerable.Range(0, at).Where(i => !isRole[i])];
        int[] after = [.. Enumerable.Range(at + 1, cells.Length - at - 1).Where(i => !isRole[i] && cells[i].Length > 0)];
        // What stands behind the address and is no role that is known is one that is not, unless it is the name.
        int[] names = before.Any(i => cells[i].Length > 0) ? before : [.. after.Take(1)];
        var roles = Enumerable.Range(0, cells.Length).Where(i => i != at && !names.Contains(i));
        return new Found(Joined(cells, names), Address(cells[at]), string.Join(' ', roles.Select(i => cells[i])).Trim());
    }

    /// <summary>A line without Separators: the name, the address, and the role behind it.</summary>
    private static Found FromWords(string line)
    {
        var words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        var at = Array.FindIndex(words, w => w.Contains('@'));
        return at < 0
            ? new Found(line, "", "")
            : new Found(Unquoted(string.Join(' ', words[..at])), Address(words[at]), string.Join(' ', words[(at + 1)..]));
    }

    private static (int[] Names, int[] Email, int[] Role)? Columns(string[] row)
    {
        if (row.Any(c => c.Contains('@')))
            return null;
        int[] Of(Regex word) => [.. Enumerable.Range(0, row.Length).Where(i => word.IsMatch(row[i]))];
        var (email, role) = (Of(EmailTitle()), Of(RoleTitle()));
        int[] names = [.. Of(NameTitle()).Except(email).OrderBy(i => FamilyTitle().IsMatch(row[i]))];
        return email.Length > 0 && names.Length > 0 || names.Length > 0 && role.Length > 0 ? (names, [.. email.Take(1)], role) : null;
    }

    private static List<string[]> Rows(string text)
    {
        var separator = Separators.MaxBy(s => text.Split('\n').Count(line => Bare(line).Contains(s)));
        try
        {
            return Rows(text, separator);
        }
        catch (InvalidDataException)
        {
            // A quotation mark that nothing closes: as it is written, line by line.
            return [.. text.Split('\n').Where(l => l.Trim().Length > 0).Select(l => Array.ConvertAll(l.Split(separator), Unquoted))];
        }
    }

    private static List<string[]> Rows(string text, char separator)
    {
        if (text.Count(c => c == '"') % 2 != 0)
            throw new InvalidDataException();
        var rows = new List<string[]>();
        using var reader = Sep.New(separator)
            .Reader(options => options with { HasHeader = false, DisableColCountCheck = true, Unescape = true })
            .FromText(text);
        foreach (var row in reader)
        {
            var cells = new string[row.ColCount];
            for (var i = 0; i < cells.Length; i++)
                cells[i] = Unquoted(row[i].ToString().Replace('\n', ' '));
            if (cells.Any(c => c.Length > 0))
                rows.Add(cells);
        }

        return rows;
    }

    private static string Joined(string[] cells, int[] which) =>
        string.Join(' ', which.Where(i => i < cells.Length).Select(i => cells[i]).Where(c => c.Length > 0));

    private static string Unquoted(string text) => Spaces().Replace(text.Trim(' ', '\t', ',', ';', '"', '“', '”', '\''), " ");

    private static string Address(string text)
    {
        var bare = text.Trim(' ', '\t', ',', ';', '<', '>', '"', '\'', '.', '(', ')');
        return bare.StartsWith("mailto:", StringComparison.OrdinalIgnoreCase) ? bare["mailto:".Length..] : bare;
    }

    /// <summary>A line without what is quoted in it.</summary>
    private static string Bare(string line) => Quoted().Replace(line, "");

    [GeneratedRegex("<([^<>]*@[^<>]*)>")]
    private static partial Regex Angled();

    [GeneratedRegex("\"[^\"]*\"")]
    private static partial Regex Quoted();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();

    [GeneratedRegex("mail|^address$", RegexOptions.IgnoreCase)]
    private static partial Regex EmailTitle();

    [GeneratedRegex("^roles?$", RegexOptions.IgnoreCase)]
    private static partial Regex RoleTitle();

    [GeneratedRegex("name|^(first|last|given|family)$", RegexOptions.IgnoreCase)]
    private static partial Regex NameTitle();

    [GeneratedRegex("^(last|family)|surname", RegexOptions.IgnoreCase)]
    private static partial Regex FamilyTitle();

    private readonly record struct Found(string Name, string Email, string Role);
}
