namespace Acquire.Storage.Rows;

/// <summary>
/// The tags of a strip, as <c>strip_revision</c> and <c>session_plan</c> have them: a column for each text, and the ties.
/// </summary>
internal static class TagColumns
{
    /// <summary>The columns, for a SELECT.</summary>
    public static string Names { get; } = string.Join(", ", Of(new StripTags(), ForeignIds.None).Keys);

    /// <summary>The part of a new row that says them. Ids of another store stay out of the columns.</summary>
    public static Dictionary<string, object?> Of(StripTags tags, ForeignIds foreign) => new(
        StripTags.Texts.Select(t => KeyValuePair.Create(t.Name, (object?)t.Of(tags))))
    {
        ["confirms"] = Sql.Id(foreign.Confirms is null ? tags.Confirms : null),
        ["reread_of"] = Sql.Id(foreign.RereadOf is null ? tags.Reread?.Of : null),
        ["treatment"] = tags.Reread is { After: var after } ? Words<Treatment>.Of(after) : null,
        ["paired_with"] = Sql.Id(foreign.PairedWith is null ? tags.PairedWith : null),
    };

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
