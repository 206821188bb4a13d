namespace Acquire.Storage.Records;

/// <summary>
/// What sessions need to be rebuilt and finished, in the tables <c>session_plan</c>, <c>session_plan_patch</c>, <c>profile_text</c>.
/// </summary>
internal static class PlanTables
{
    public static void Add(Db db, Guid sessionId, SessionPlan plan)
    {
        AddProfile(db, plan.Profile);
        var id = Sql.Id(sessionId);
        _ = db.Insert(
            "session_plan",
            new
            {
                SessionId = id,
                Purpose = Words<SessionPurpose>.Of(plan.Purpose),
                LayoutName = plan.Layout.Name,
                plan.ReadsPerPlacement,
                Channels = string.Join(' ', plan.Channels.Select(Words<Channel>.Of)),
                ProfileHash = plan.Profile.Hash,
                plan.Baud,
                ProcessHash = plan.Sheet is { } sheet ? SnapshotTables.Add(db, sheet) : null,
                ReferenceId = Sql.Id(plan.Reference?.Id),
                ReferenceRevision = plan.Reference?.Revision,
                RepeatabilityId = Sql.Id(plan.RepeatabilityId),
                CheckId = Sql.Id(plan.CheckId),
                plan.CheckLacking,
                RanAt = Sql.Time(plan.RanAt),
                plan.Reason,
                plan.Specification,
            },
            TagColumns.Of(plan.Tags, ForeignIds.None));
        db.InsertAll("session_plan_patch", plan.Layout.Patches.Select((p, i) => new { SessionId = id, Position = i + 1, p.Key, p.Name }));
    }

    /// <summary>The plan of a session; null for one that was begun before plans were kept.</summary>
    /// <summary>Keeps the text of a profile, unless it is there.</summary>
    public static void AddProfile(Db db, ProfileText profile)
    {
        var (name, hash, text) = profile;
        if (!db.Exists("SELECT 1 FROM profile_text WHERE hash = @hash", new { hash }))
        {
            _ = db.Insert("profile_text", new { hash, name, text });
        }
    }

    public static SessionPlan? Find(Db db, Guid sessionId)
    {
        var id = Sql.Id(sessionId);
        _ = db.Whole(SealedRecord.Plan, [id], i => i);
        if (db.First<string>("SELECT profile_hash FROM session_plan WHERE session_id = @id", new { id }) is not { } profile)
        {
            return null;
        }

        _ = db.Whole(SealedRecord.Profile, [profile], h => h);
        var row = db.First<PlanRow>(
            """
            SELECT p.*, t.name AS profile_name, t.text AS profile_text
            FROM session_plan AS p JOIN profile_text AS t ON t.hash = p.profile_hash WHERE p.session_id = @id
            """,
            new { id })!;
        var patches = db.Query<PatchRow>("SELECT key, name FROM session_plan_patch WHERE session_id = @id ORDER BY position", new { id });
        return row.ToPlan(
            new StripLayout(row.LayoutName, [.. patches.Select(p => new Patch(p.Key, p.Name))]),
            row.ProcessHash is { } hash ? SnapshotTables.Load(db, hash) : null,
            TagColumns.Of(db.Rows($"SELECT {TagColumns.Names} FROM session_plan WHERE session_id = @id", new { id })[0], ForeignIds.None));
    }

    private sealed record PatchRow
    {
        public string Key { get; init; } = "";

        public string Name { get; init; } = "";
    }

    private sealed record PlanRow
    {
        public string Purpose { get; init; } = "";

        public string LayoutName { get; init; } = "";

        public int ReadsPerPlacement { get; init; }

        public string Channels { get; init; } = "";

        public string ProfileHash { get; init; } = "";

        public string ProfileName { get; init; } = "";

        public string ProfileText { get; init; } = "";

        public int Baud { get; init; }

        public string? ProcessHash { get; init; }

        public string? ReferenceId { get; init; }

        public int? ReferenceRevision { get; init; }

        public string? RepeatabilityId { get; init; }

        public string? CheckId { get; init; }

        public string? CheckLacking { get; init; }

        public string? RanAt { get; init; }

        public string? Reason { get; init; }

        public double? Specification { get; init; }

        public SessionPlan ToPlan(StripLayout layout, ProcessSheet? sheet, StripTags tags) => new(
            Words<SessionPurpose>.Parse(Purpose),
            layout,
            ReadsPerPlacement,
            [.. Channels.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Words<Channel>.Parse)],
            new ProfileText(ProfileName, ProfileHash, ProfileText),
            Baud)
        {
            Sheet = sheet,
            Reference = ReferenceId is { } id && ReferenceRevision is { } revision ? (Sql.Id(id), revision) : null,
            RepeatabilityId = Sql.OptionalId(RepeatabilityId),
            CheckId = Sql.OptionalId(CheckId),
            CheckLacking = CheckLacking,
            Tags = tags,
            RanAt = RanAt is { } ran ? Sql.Time(ran) : null,
            Reason = Reason,
            Specification = Specification,
        };
    }
}
