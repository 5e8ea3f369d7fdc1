//! The workshop's key `holding` as written.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::spec::value::{Amount, Place};

/// How small parts are held while they are cut free.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "holding")]
pub(crate) struct Holding {
    /// Which parts are small: those that are so by one of the two.
    pub(crate) small: Option<Place<Small>>,
    /// How they are held. Default: tabs.
    pub(crate) method: Option<Place<HoldingMethod>>,
    /// The tabs.
    pub(crate) tabs: Option<Place<Tabs>>,
    /// The skin.
    pub(crate) skin: Option<Place<Skin>>,
}

/// Which parts could move under the tool.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "small")]
pub(crate) struct Small {
    /// A part of less area is small (square of the unit of length). Default: 45,000 mm2. 0: none is.
    pub(crate) area: Option<Place<Amount>>,
    /// A part less wide is small (length). Default: 80 mm. 0: none is.
    pub(crate) width: Option<Place<Amount>>,
}

/// How small parts are held.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum HoldingMethod {
    /// Pieces of the sheet stay between the part and what is around it.
    Tabs,
    /// The first pass does not go right through.
    Skin,
    /// By what the machine has.
    None,
}

/// Holding tabs.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "tabs")]
pub(crate) struct Tabs {
    /// Of what stays of a tab (length). Default: 6 mm.
    pub(crate) width: Option<Place<Amount>>,
    /// Most that two tabs are apart along the outline (length); two there are at least. Default: 200 mm.
    pub(crate) spacing: Option<Place<Amount>>,
    /// How many each part has, instead of `spacing`; from 2 to 20.
    pub(crate) number: Option<Place<Amount>>,
    /// How the files show them. Default: layer.
    #[serde(rename = "as")]
    pub(crate) shown_as: Option<Place<TabsAs>>,
}

/// How the files show tabs.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum TabsAs {
    /// The outline is left open there, by the tab's width and the tool's diameter.
    Gaps,
    /// The outline stays closed; marks on a layer of their own show where.
    Layer,
}

/// A skin.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "skin")]
pub(crate) struct Skin {
    /// What the first pass leaves (length). Default: 0.5 mm.
    pub(crate) thickness: Option<Place<Amount>>,
}
