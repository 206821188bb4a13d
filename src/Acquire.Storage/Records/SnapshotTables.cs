using System.Security.Cryptography;
using System.Text;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Storage.Records;

/// <summary>
/// The process sheets that strips were judged by, each stored once under the hash of its text: the whole as JSON in
/// <c>process_snapshot</c>, its limits as rows in <c>process_limit</c> and <c>process_channel_limit</c>.
/// </summary>
internal static class SnapshotTables
{
    /// <summary>Stores a sheet unless it is there, and gives its hash.</summary>
    public static string Add(Db db, ProcessSheet sheet)
    {
        // The hash is of the text as it is stored, so a sheet that was edited under the same key is another snapshot.
        var text = SheetSnapshot.Write(sheet);
        var hash = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
        if (!db.Exists("SELECT 1 FROM process_snapshot WHERE hash = @hash", new { hash }))
        {
            _ = db.Insert(
                "process_snapshot", new { hash, sheet.Key, sheet.Name, Status = Words<DensityStatus>.Of(sheet.Status), Sheet = text });
            AddLimits(db, hash, sheet);
        }

        return hash;
    }

    public static ProcessSheet Load(Db db, string hash)
    {
        if (db.Sound(SealedRecord.ProcessSheet, [hash], h => h) is [])
        {
            throw new FormatException($"the process sheet {hash} is not as it was written");
        }
        var text = db.First<string>("SELECT sheet FROM process_snapshot WHERE hash = @hash", new { hash });
        return text is null ? throw new FormatException($"the process sheet {hash} is not there") : SheetSnapshot.Read(text);
    }

    private static void AddLimits(Db db, string processHash, ProcessSheet sheet)
    {
        var rows =
            (from parameter in sheet.Parameters.Index()
             from limits in parameter.Item.AllLimits
             from limit in new[] { (Kind: "action", Limit: limits.Limits.Action), (Kind: "control", Limit: limits.Limits.Control) }
             select (
                 Channel: limits.Channel?.Word(),
                 Row: new
                 {
                     processHash,
                     Position = parameter.Index + 1,
                     ParameterKey = parameter.Item.Key,
                     ParameterName = parameter.Item.Name,
                     limit.Kind,
                     limit.Limit?.Lower,
                     limit.Limit?.Upper,
                     limit.Limit?.Source,
                 })).ToLookup(r => r.Channel is null);
        db.InsertAll("process_limit", rows[true].Select(r => r.Row).Where(r => r.Source is not null));

        // A channel of its own may have no limit where the others have one, so its rows are there either way.
        foreach (var (channel, row) in rows[false])
        {
            _ = db.Insert("process_channel_limit", row, new { channel });
        }
    }
}
