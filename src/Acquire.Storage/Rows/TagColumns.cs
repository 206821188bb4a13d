using Dapper;

namespace Acquire.Storage.Rows;

/// <summary>
/// The tags of a strip, as <c>strip_revision</c> and <c>session_plan</c> have them: a column for each text, and the ties.
/// </summary>
internal static class TagColumns
{
    private static readonly string[] All = [.. StripTags.Texts.Select(t => t.Name), "confirms", "reread_of", "treatment", "paired_with"];

    /// <summary>The columns, for an INSERT or a SELECT.</summary>
    public static string Names { get; } = string.Join(", ", All);

    /// <summary>Their parameters, for an INSERT.</summary>
    public static string Values { get; } = string.Join(", ", All.Select(c => "@" + c));

    /// <summary>The values of an INSERT, with those of the tags beside the others. Ids of another store stay out of the columns.</summary>
    public static DynamicParameters With(object others, StripTags tags, ForeignIds foreign)
    {
        var values = new DynamicParameters(others);
        foreach (var text in StripTags.Texts)
        {
            values.Add(text.Name, text.Of(tags));
        }

        values.Add("confirms", Sql.Id(foreign.Confirms is null ? tags.Confirms : null));
        values.Add("reread_of", Sql.Id(foreign.RereadOf is null ? tags.Reread?.Of : null));
        values.Add("treatment", tags.Reread is { After: var after } ? Words<Treatment>.Of(after) : null);
        values.Add("paired_with", Sql.Id(foreign.PairedWith is null ? tags.PairedWith : null));
        return values;
    }

    /// <summary>The tags of a row that has these columns.</summary>
    public static StripTags Of(IDictionary<string, object?> row, ForeignIds foreign)
    {
        return StripTags.Of(Text) with
        {
            Confirms = Sql.OptionalId(Text("confirms")) ?? foreign.Confirms,
            Reread = Reread.Join(
                Sql.OptionalId(Text("reread_of")) ?? foreign.RereadOf,
                Text("treatment") is { } after ? Words<Treatment>.Parse(after) : null),
            PairedWith = Sql.OptionalId(Text("paired_with")) ?? foreign.PairedWith,
        };

        string? Text(string column) => (string?)row[column];
    }
}

/// <summary>
/// Ids that an imported record names and this store does not have: they lie in the store it was exported from. They are kept without a
/// foreign key, so that the record stays whole.
/// </summary>
internal sealed record ForeignIds(
    Guid? Session, Guid? Reference, Guid? Check, Guid? Repeatability, Guid? Confirms = null, Guid? RereadOf = null, Guid? PairedWith = null)
{
    public static ForeignIds None { get; } = new(null, null, null, null);
}
