namespace Acquire.Instruments.Links;

/// <summary>A group of users of a Unix system.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Id">Its number.</param>
/// <param name="Members">The users listed in it.</param>
internal sealed record UserGroup(string Name, uint Id, ImmutableArray<string> Members);

/// <summary>Reads the list of groups, group(5): <c>name:password:number:user,user</c>.</summary>
internal static class UserGroups
{
    /// <summary>The groups of a file; none when it cannot be read, and lines of another form are left out.</summary>
    public static ImmutableArray<UserGroup> Read(string path)
    {
        try
        {
            return Parse(File.ReadAllLines(path));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return [];
        }
    }

    /// <summary>The groups of a list of lines.</summary>
    public static ImmutableArray<UserGroup> Parse(IEnumerable<string> lines) =>
    [
        .. from line in lines
           let fields = line.Split(':')
           where fields.Length == 4 && uint.TryParse(fields[2], NumberStyles.None, CultureInfo.InvariantCulture, out _)
           select new UserGroup(
               fields[0],
               uint.Parse(fields[2], CultureInfo.InvariantCulture),
               [.. fields[3].Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)]),
    ];
}
