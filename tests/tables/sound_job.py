"""A small sound job as text. Invented data."""

SOUND = {
    "job.toml": 'unit = "in"\n',
    "fabrics.csv": "fabric,value,tags,one_way\npear,medium,greens,\noat,light,,\nblossom,,prints,along\n",
    "pieces.csv": "piece,fabric,count,width,length,outline,flaws\nbib,pear,2,11,7,,\n",
    "shop.csv": "fabric,usable_width,sold_by,price\noat,42,1/8 yd,9.60\n",
    "cuts.csv": "cut,count,width,length,fabrics\nsquare,10,2 1/2,2 1/2,pear|any light\n",
}
